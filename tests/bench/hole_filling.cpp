#include "tests/bench/hole_filling.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/border.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/triangulate_hole.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/jet_smooth_point_set.h>

#include <algorithm>
#include <map>
#include <stdexcept>

namespace tearline::test {

namespace {

namespace pmp = CGAL::Polygon_mesh_processing;
// Its Delaunay search goes astray by rounding where a hole is cut out of a grid.
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;
using Mesh = CGAL::Surface_mesh<Point>;

Mesh to_cgal(const Facets& facets) {
    Mesh mesh;
    for (const Vec3& p : facets.points) mesh.add_vertex(Point(p.x(), p.y(), p.z()));
    for (const auto& v : facets.triangles) {
        const auto face = mesh.add_face(Mesh::Vertex_index(static_cast<std::uint32_t>(v[0])),
                                        Mesh::Vertex_index(static_cast<std::uint32_t>(v[1])),
                                        Mesh::Vertex_index(static_cast<std::uint32_t>(v[2])));
        if (face == Mesh::null_face()) throw std::runtime_error("no surface for CGAL");
    }
    return mesh;
}

Vec3 place_of(const Point& p) {
    return {p.x(), p.y(), p.z()};
}

}  // namespace

Facets cgal_filled(const Facets& facets, unsigned continuity) {
    Mesh mesh = to_cgal(facets);
    const auto outer = pmp::longest_border(mesh);
    std::vector<Mesh::Halfedge_index> borders;
    pmp::extract_boundary_cycles(mesh, std::back_inserter(borders));
    // The other border, whichever of its half edges stands for it.
    const auto on_outer = [&](Mesh::Halfedge_index edge) {
        const auto round = mesh.halfedges_around_face(outer.first);
        return std::find(round.begin(), round.end(), edge) != round.end();
    };
    const auto hole = std::find_if_not(borders.begin(), borders.end(), on_outer);
    if (borders.size() != 2 || hole == borders.end()) throw std::runtime_error("not one hole");
    std::vector<Mesh::Face_index> faces;
    std::vector<Mesh::Vertex_index> vertices;
    const bool faired = std::get<0>(pmp::triangulate_refine_and_fair_hole(
        mesh, *hole, std::back_inserter(faces), std::back_inserter(vertices),
        CGAL::parameters::fairing_continuity(continuity)));
    if (!faired) throw std::runtime_error("CGAL could not fair the hole");
    Facets out;
    std::map<Mesh::Vertex_index, std::int32_t> number;
    for (const Mesh::Face_index face : faces) {
        std::array<std::int32_t, 3> corners{};
        std::size_t k = 0;
        for (const Mesh::Vertex_index v : mesh.vertices_around_face(mesh.halfedge(face))) {
            const auto known = number.try_emplace(v, static_cast<std::int32_t>(out.points.size()));
            if (known.second) out.points.push_back(place_of(mesh.point(v)));
            corners[k++] = known.first->second;
        }
        out.triangles.push_back(corners);
    }
    return out;
}

std::vector<Vec3> cgal_jet_smoothed(const std::vector<Vec3>& points, unsigned neighbours) {
    std::vector<Point> moved;
    moved.reserve(points.size());
    for (const Vec3& p : points) moved.emplace_back(p.x(), p.y(), p.z());
    CGAL::jet_smooth_point_set<CGAL::Sequential_tag>(moved, neighbours);
    std::vector<Vec3> out;
    out.reserve(moved.size());
    for (const Point& p : moved) out.push_back(place_of(p));
    return out;
}

}  // namespace tearline::test

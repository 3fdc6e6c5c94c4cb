#include "tests/reference/cgal/hole_filling.h"

#define CGAL_EIGEN3_ENABLED
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/triangulate_hole.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/jet_smooth_point_set.h>

#include <iterator>
#include <stdexcept>

namespace tearline::test {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;

/// Two triangles for every four neighbours that are all there.
Mesh mesh_of(const PointRows& rows, const std::vector<bool>& missing) {
    Mesh mesh;
    for (const Vec3& p : rows.points) mesh.add_vertex({p.x(), p.y(), p.z()});
    const auto index = [](std::size_t i) {
        return Mesh::Vertex_index(static_cast<Mesh::size_type>(i));
    };
    for (std::size_t first = 0; first + rows.across < rows.points.size(); first += rows.across)
        for (std::size_t k = first; k + 1 < first + rows.across; ++k) {
            const std::size_t a = k, b = k + 1, c = k + rows.across, d = c + 1;
            if (missing[a] || missing[b] || missing[c] || missing[d]) continue;
            mesh.add_face(index(a), index(c), index(d));
            mesh.add_face(index(a), index(d), index(b));
        }
    for (const Mesh::Vertex_index v : mesh.vertices())
        if (mesh.is_isolated(v)) mesh.remove_vertex(v);
    return mesh;
}

/// A half edge of the shorter of the two borders: the hole's, not the rim's.
Mesh::Halfedge_index hole_of(const Mesh& mesh) {
    Mesh::Halfedge_index shortest;
    std::size_t fewest = 0;
    for (const Mesh::Halfedge_index start : mesh.halfedges()) {
        if (!mesh.is_border(start)) continue;
        std::size_t count = 0;
        auto at = start;
        do {
            at = mesh.next(at);
            ++count;
        } while (at != start);
        if (fewest == 0 || count < fewest) {
            fewest = count;
            shortest = start;
        }
    }
    if (fewest == 0) throw std::runtime_error("no border");
    return shortest;
}

Vec3 place_of(const Mesh& mesh, Mesh::Vertex_index v) {
    const auto& p = mesh.point(v);
    return {p.x(), p.y(), p.z()};
}

}  // namespace

std::vector<std::array<Vec3, 3>> cgal_filled(const PointRows& rows,
                                             const std::vector<bool>& missing,
                                             unsigned continuity) {
    Mesh mesh = mesh_of(rows, missing);
    std::vector<Mesh::Face_index> faces;
    std::vector<Mesh::Vertex_index> vertices;
    CGAL::Polygon_mesh_processing::triangulate_refine_and_fair_hole(
        mesh, hole_of(mesh), std::back_inserter(faces), std::back_inserter(vertices),
        CGAL::parameters::fairing_continuity(continuity));
    std::vector<std::array<Vec3, 3>> filled;
    for (const Mesh::Face_index face : faces) {
        std::array<Vec3, 3> corners;
        std::size_t k = 0;
        for (const auto v : mesh.vertices_around_face(mesh.halfedge(face)))
            corners[k++] = place_of(mesh, v);
        filled.push_back(corners);
    }
    return filled;
}

std::vector<Vec3> cgal_jet_smoothed(const std::vector<Vec3>& points, unsigned neighbours) {
    std::vector<Kernel::Point_3> moved;
    for (const Vec3& p : points) moved.emplace_back(p.x(), p.y(), p.z());
    CGAL::jet_smooth_point_set<CGAL::Sequential_tag>(moved, neighbours);
    std::vector<Vec3> out;
    for (const auto& p : moved) out.emplace_back(p.x(), p.y(), p.z());
    return out;
}

}  // namespace tearline::test

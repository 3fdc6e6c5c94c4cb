#include "core/plane/triangulate_region.h"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Spatial_sort_traits_adapter_2.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>
#include <CGAL/property_map.h>
#include <CGAL/spatial_sort.h>

#include <algorithm>
#include <unordered_map>

#include "core/plane/segment.h"

namespace tearline::plane {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
struct Number {
    std::int32_t value = -1;
};
using VertexBase = CGAL::Triangulation_vertex_base_with_info_2<Number, Kernel>;
using FaceBase =
    CGAL::Triangulation_face_base_with_info_2<std::int32_t, Kernel,
                                              CGAL::Constrained_triangulation_face_base_2<Kernel>>;
using Structure = CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>;
using Triangulation =
    CGAL::Constrained_Delaunay_triangulation_2<Kernel, Structure, CGAL::Exact_predicates_tag>;

constexpr std::int32_t unseen = -1;

Kernel::Point_2 to_cgal(const Vec2& p) {
    return {p.x(), p.y()};
}

std::uint64_t key(std::int32_t a, std::int32_t b) {
    if (a > b) std::swap(a, b);
    return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(a)) << 32) |
           static_cast<std::uint32_t>(b);
}

/// Kinds of the kept edges by their ends; pieces of crossing edges by the edge they lie on.
class Kinds {
public:
    Kinds(const Skeleton& skeleton, const std::vector<Vec2>& points)
        : skeleton_(skeleton), points_(points) {
        for (const auto& e : skeleton.edges) by_ends_.emplace(key(e.a, e.b), e.kind);
    }

    [[nodiscard]] EdgeKind of(std::int32_t a, std::int32_t b) const {
        const auto found = by_ends_.find(key(a, b));
        if (found != by_ends_.end()) return found->second;
        const Vec2 middle = 0.5 * (points_[a] + points_[b]);
        double best = std::numeric_limits<double>::infinity();
        EdgeKind kind = EdgeKind::free;
        for (const auto& e : skeleton_.edges) {
            const double d = distance_to_segment(points_[e.a], points_[e.b], middle);
            if (d < best) {
                best = d;
                kind = e.kind;
            }
        }
        return kind;
    }

private:
    const Skeleton& skeleton_;
    const std::vector<Vec2>& points_;
    std::unordered_map<std::uint64_t, EdgeKind> by_ends_;
};

/// Numbers the faces inside the region, -1 outside: parts between kept edges are in or out whole.
std::vector<Triangulation::Face_handle> faces_inside(Triangulation& cdt, const Region2& region) {
    for (const auto face : cdt.all_face_handles()) face->info() = unseen;
    std::vector<Triangulation::Face_handle> inside, part;
    constexpr std::int32_t seen = -2;
    for (const auto start : cdt.finite_face_handles()) {
        if (start->info() != unseen) continue;
        part.assign(1, start);
        start->info() = seen;
        bool finite = true;
        double widest = -1.0;
        Vec2 centre = Vec2::Zero();
        for (std::size_t k = 0; k < part.size(); ++k) {
            const auto face = part[k];
            if (!cdt.is_infinite(face)) {
                const auto corner = [&](int i) {
                    return Vec2(face->vertex(i)->point().x(), face->vertex(i)->point().y());
                };
                const double twice = cross2(corner(1) - corner(0), corner(2) - corner(0));
                if (twice > widest) {
                    widest = twice;
                    centre = (corner(0) + corner(1) + corner(2)) / 3.0;
                }
            } else {
                finite = false;
            }
            for (int i = 0; i < 3; ++i) {
                const auto next = face->neighbor(i);
                if (face->is_constrained(i) || next->info() != unseen) continue;
                next->info() = seen;
                part.push_back(next);
            }
        }
        if (!finite || !contains(region, centre)) continue;
        for (const auto face : part) inside.push_back(face);
    }
    for (std::size_t k = 0; k < inside.size(); ++k)
        inside[k]->info() = static_cast<std::int32_t>(k);
    return inside;
}

PlaneMesh read_back(Triangulation& cdt, const Skeleton& skeleton, std::vector<Vec2> points,
                    std::size_t fixed, const Region2& region) {
    const auto faces = faces_inside(cdt, region);
    PlaneMesh mesh;
    mesh.fixed = fixed;
    mesh.points = std::move(points);
    const Kinds kinds(skeleton, mesh.points);
    mesh.triangle.resize(faces.size());
    mesh.neighbour.resize(faces.size());
    mesh.kind.resize(faces.size());
    for (std::size_t t = 0; t < faces.size(); ++t) {
        const auto face = faces[t];
        for (int i = 0; i < 3; ++i) {
            // CGAL numbers an edge by the corner it faces; ours starts at its own corner.
            const int facing = (i + 2) % 3;
            mesh.triangle[t][i] = face->vertex(i)->info().value;
            const std::int32_t next = face->neighbor(facing)->info();
            mesh.neighbour[t][i] = next >= 0 ? next : -1;
            mesh.kind[t][i] = face->is_constrained(facing)
                                  ? kinds.of(face->vertex(i)->info().value,
                                             face->vertex((i + 1) % 3)->info().value)
                                  : EdgeKind::free;
        }
    }
    return mesh;
}

/// Leaves out points that no triangle uses.
void drop_unused(PlaneMesh& mesh) {
    std::vector<std::int32_t> place(mesh.points.size(), -1);
    for (const auto& t : mesh.triangle)
        for (const std::int32_t v : t) place[v] = 0;
    std::int32_t count = 0;
    std::size_t fixed = 0;
    for (std::size_t v = 0; v < place.size(); ++v) {
        if (v == mesh.fixed) fixed = static_cast<std::size_t>(count);
        if (place[v] < 0) continue;
        place[v] = count;
        mesh.points[static_cast<std::size_t>(count++)] = mesh.points[v];
    }
    mesh.fixed = mesh.fixed >= place.size() ? static_cast<std::size_t>(count) : fixed;
    mesh.points.resize(static_cast<std::size_t>(count));
    for (auto& t : mesh.triangle)
        for (std::int32_t& v : t) v = place[v];
}

}  // namespace

PlaneMesh triangulate_region(const Skeleton& skeleton, const std::vector<Vec2>& free,
                             const Region2& region) {
    Triangulation cdt;
    std::vector<Triangulation::Vertex_handle> handle;
    handle.reserve(skeleton.points.size());
    Triangulation::Face_handle near;
    for (const Vec2& p : skeleton.points) {
        const auto v = cdt.insert(to_cgal(p), near);
        v->info().value = static_cast<std::int32_t>(handle.size());
        near = v->face();
        handle.push_back(v);
    }
    for (const auto& e : skeleton.edges)
        if (handle[e.a] != handle[e.b]) cdt.insert_constraint(handle[e.a], handle[e.b]);
    // Constraints remake the faces they cross: the one that the last point lay in may be gone.
    if (!handle.empty()) near = handle.back()->face();
    // Crossings added a vertex each; number them after the skeleton's own.
    std::vector<Vec2> points = skeleton.points;
    for (Triangulation::Vertex_handle v : cdt.finite_vertex_handles()) {
        const std::int32_t id = v->info().value;
        const bool own = id >= 0 && static_cast<std::size_t>(id) < handle.size() &&
                         handle[static_cast<std::size_t>(id)] == v;
        if (own) continue;
        v->info().value = static_cast<std::int32_t>(points.size());
        points.emplace_back(v->point().x(), v->point().y());
    }
    const std::size_t fixed = points.size();
    // In the order of a space-filling curve, which saves half of the flips of row by row.
    std::vector<std::pair<Kernel::Point_2, std::int32_t>> ordered;
    ordered.reserve(free.size());
    for (const Vec2& p : free) {
        ordered.emplace_back(to_cgal(p), static_cast<std::int32_t>(points.size()));
        points.push_back(p);
    }
    using FirstOf = CGAL::First_of_pair_property_map<std::pair<Kernel::Point_2, std::int32_t>>;
    CGAL::spatial_sort(ordered.begin(), ordered.end(),
                       CGAL::Spatial_sort_traits_adapter_2<Kernel, FirstOf>());
    for (const auto& [point, number] : ordered) {
        const auto v = cdt.insert(point, near);
        near = v->face();
        v->info().value = number;
    }
    PlaneMesh mesh = read_back(cdt, skeleton, std::move(points), fixed, region);
    drop_unused(mesh);
    return mesh;
}

}  // namespace tearline::plane

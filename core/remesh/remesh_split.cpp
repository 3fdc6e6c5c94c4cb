#include <algorithm>
#include <cmath>

#include "core/remesh/remesh.h"
#include "core/remesh/tolerances.h"

namespace tearline::remesh {
namespace {

constexpr double farthest = 0.35;  ///< of an edge: from its middle to the new vertex
constexpr int most_rounds = 200;

/// Parameter of a kept edge's point that is as far from both ends.
double middle_parameter(const RemeshMesh& mesh, const surface::Carrier& carrier, Corner e) {
    const KeptEdge& kept = mesh.triangle[e.triangle].kept[e.corner];
    const Vec3& a = mesh.point(e.triangle, e.corner);
    const Vec3& b = mesh.point(e.triangle, e.corner + 1);
    const double whole = (b - a).squaredNorm();
    double p = 0.5 * (kept.from + kept.to);
    for (int step = 0; step < 3; ++step) {
        // Along the chord: how far before its middle the point lies, as part of the chord.
        const Vec3 m = carrier.edge_point(kept.edge, p);
        const double along = (m - a).dot(b - a) / whole;
        const double next = p + (0.5 - along) * (kept.to - kept.from);
        const double low = std::min(kept.from, kept.to);
        const double high = std::max(kept.from, kept.to);
        if (!(next > low && next < high)) break;
        p = next;
    }
    return p;
}

double wished_curvature_size(const surface::Carried& at, const RemeshOptions& options) {
    const double curvature = std::max(std::abs(at.curvature_min), std::abs(at.curvature_max));
    return std::clamp(options.turn / std::max(curvature, options.turn / options.edge),
                      options.least_edge, options.edge);
}

/// The longest edge whose chord follows the hull's own end or a crease where that is a curve.
double wished_kept_size(const RemeshMesh& mesh, const surface::Carrier& carrier,
                        const RemeshOptions& options, Corner e) {
    const KeptEdge& kept = mesh.triangle[e.triangle].kept[e.corner];
    if (!kept.kept()) return options.edge;
    const Vec3& a = mesh.point(e.triangle, e.corner);
    const Vec3& b = mesh.point(e.triangle, e.corner + 1);
    const Vec3 middle = carrier.edge_point(kept.edge, middle_parameter(mesh, carrier, e));
    // Of the circle through the three points: its sagitta over this chord. Where the parameter runs
    // unevenly the middle also lies off along the chord: ends that are splines are kept finer so.
    Vec3 off = middle - 0.5 * (a + b);
    const Vec3 way = (b - a).normalized();
    if (!kept.hull_end) off -= off.dot(way) * way;
    const double sagitta = off.norm();
    const double half = 0.5 * (b - a).norm();
    const double bend = 2.0 * sagitta / (half * half + sagitta * sagitta);
    if (!(bend * options.edge * options.edge > 8.0 * tolerance::kept_chord)) return options.edge;
    // Coarser meshes keep at least the shape: a bolt hole of three sides would turn its neighbours
    // over when it grows round. No finer than that, or long facets are split before they are bent.
    constexpr double half_radius = 0.5;
    return std::max(std::min(options.least_edge, half_radius / bend),
                    std::sqrt(8.0 * tolerance::kept_chord / bend));
}

void split(RemeshMesh& mesh, const surface::Carrier& carrier, const RemeshOptions& options,
           Corner e) {
    const RemeshTriangle& here = mesh.triangle[e.triangle];
    const int i = e.corner;
    const int j = (i + 1) % 3;
    const KeptEdge kept = here.kept[i];
    Vec3 half = Vec3::Zero();
    half[i] = half[j] = 0.5;
    double parameter = 0.0;
    const double length = std::sqrt(mesh.length2(e));
    Vec3 q = 0.5 * (mesh.point(e.triangle, i) + mesh.point(e.triangle, j));
    if (kept.kept()) {
        parameter = middle_parameter(mesh, carrier, e);
        q = carrier.edge_point(kept.edge, parameter);
    }
    surface::Carried carried = carrier.carry(carrier.between(here.anchor, half), q);
    double size = std::min(wished_curvature_size(carried, options),
                           wished_kept_size(mesh, carrier, options, e));
    RemeshVertex m;
    // A foot far aside would not shorten the edges: where the surface gives no better, halve them.
    const bool near = (carried.position - q).norm() < farthest * length;
    m.position = !kept.kept() && near ? carried.position : q;

    surface::Anchor anchor_across = carried.anchor;
    const TriangleId n = here.neighbour[i];
    if (n.valid()) {
        const RemeshTriangle& across = mesh.triangle[n];
        const int k = mesh.edge_in(n, here.vertex[j], here.vertex[i]);
        const int l = (k + 1) % 3;
        if (kept.kept() || !carrier.same(across.anchor[k], here.anchor[j]) ||
            !carrier.same(across.anchor[l], here.anchor[i])) {
            Vec3 weights = Vec3::Zero();
            weights[k] = weights[l] = 0.5;
            const surface::Carried other =
                carrier.carry(carrier.between(across.anchor, weights), m.position);
            anchor_across = other.anchor;
            size = std::min(size, wished_curvature_size(other, options));
        }
    }
    // Sizes may grow by half the distance from a finer place.
    const double graded =
        std::min(mesh.vertex[here.vertex[i]].size, mesh.vertex[here.vertex[j]].size) +
        0.25 * length;
    m.size = std::min(size, graded);
    mesh.split(e, mesh.vertex.add(m), carried.anchor, anchor_across, parameter);
}

double excess(const RemeshMesh& mesh, Corner e) {
    const auto& v = mesh.triangle[e.triangle].vertex;
    const double size =
        std::min(mesh.vertex[v[e.corner]].size, mesh.vertex[v[(e.corner + 1) % 3]].size);
    return mesh.length2(e) / (size * size);
}

}  // namespace

void set_sizes(RemeshMesh& mesh, const surface::Carrier& carrier, const RemeshOptions& options) {
    for (auto& v : mesh.vertex) v.size = options.edge;
    PerId<VertexId, bool> done(mesh.vertex.size(), false);
    for (const TriangleId t_id : mesh.triangle.ids()) {
        const RemeshTriangle& t = mesh.triangle[t_id];
        if (!t.alive()) continue;
        for (int i = 0; i < 3; ++i) {
            auto& v = mesh.vertex[t.vertex[i]];
            // One look serves a smooth vertex; along kept edges each side has its own curvature.
            const bool on_kept = t.kept[i].kept() || t.kept[(i + 2) % 3].kept();
            if (done[t.vertex[i]] && !on_kept) continue;
            done[t.vertex[i]] = true;
            const double size =
                wished_curvature_size(carrier.carry(t.anchor[i], v.position), options);
            v.size = std::min(v.size, size);
            const double along = wished_kept_size(mesh, carrier, options, {t_id, i});
            v.size = std::min(v.size, along);
            auto& next = mesh.vertex[t.vertex[(i + 1) % 3]];
            next.size = std::min(next.size, along);
        }
    }
}

void split_long_edges(RemeshMesh& mesh, const surface::Carrier& carrier,
                      const RemeshOptions& options) {
    mesh.touched.clear();
    for (int round = 0; round < most_rounds; ++round) {
        bool any = false;
        for (const TriangleId t : mesh.triangle.ids()) {  // not those that splits add
            if (!mesh.triangle[t].alive()) continue;
            // Only an edge that is the longest on both of its sides: shapes stay sound.
            std::array<double, 3> here{};
            for (int i = 0; i < 3; ++i) here[i] = excess(mesh, {t, i});
            const int i =
                static_cast<int>(std::max_element(here.begin(), here.end()) - here.begin());
            if (!(here[i] > tolerance::longest_edge * tolerance::longest_edge)) continue;
            const TriangleId n = mesh.triangle[t].neighbour[i];
            any = true;
            if (n.valid()) {
                double most = 0.0;
                for (int k = 0; k < 3; ++k) most = std::max(most, excess(mesh, {n, k}));
                if (most > here[i]) continue;
            }
            split(mesh, carrier, options, {t, i});
        }
        if (!any) return;
        flip_touched(mesh, carrier);
    }
}

}  // namespace tearline::remesh

#include "core/patch/rough_scan.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/base/angle_between.h"

namespace tearline::patch {
namespace {

constexpr double wave = 4.0;         // [deg] a rough scan folds so far both ways at ...
constexpr double most_waves = 0.35;  // ... more of its vertices than this; humps and saddles may
constexpr double fold = 15.0;        // [deg] noise folds some edges so far, up and down, ...
constexpr std::size_t folds = 10;    // ... at so many places each; humps and saddles do not
constexpr double rough_turn = 3.1;   // [deg] the middle fold; at 3.5 noise was seen to make creases
constexpr double fair_turn = 2.0;    // [deg] the middle fold at which scans were seen to plan well
constexpr std::size_t fewest_edges = 500;  // fewer are no scan
constexpr double slender = 10.0;           // times as long as high: its direction says little

/// An edge between two facets.
struct Fold {
    double turn = 0.0;    ///< [deg] positive where the surface is hollow
    double length = 0.0;  ///< [mm]
};

bool is_slender(const remesh::RemeshMesh& mesh, TriangleId t) {
    double longest = 0.0;
    for (int i = 0; i < 3; ++i) longest = std::max(longest, mesh.length2({t, i}));
    return longest > slender * mesh.area_vector(t).norm();
}

Fold fold_at(const remesh::RemeshMesh& mesh, TriangleId t, int i) {
    const remesh::RemeshTriangle& here = mesh.triangle[t];
    const TriangleId n = here.neighbour[i];
    const Vec3 a = mesh.area_vector(t), b = mesh.area_vector(n);
    const double turn = angle_between(a, b) * 180.0 / std::numbers::pi;
    const int k = mesh.edge_in(n, here.vertex[(i + 1) % 3], here.vertex[i]);
    const double rise = a.dot(mesh.point(n, k + 2) - mesh.point(t, i));
    return {rise > 0.0 ? turn : -turn, std::sqrt(mesh.length2({t, i}))};
}

double middle_of(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace

std::optional<RoughScan> find_rough_scan(const remesh::RemeshMesh& mesh, const Vec3& damage) {
    PerId<TriangleId, bool> skip(mesh.triangle.size());
    for (const TriangleId t : skip.ids()) skip[t] = is_slender(mesh, t);
    std::vector<double> turns, lengths;
    std::size_t sharp_up = 0, sharp_down = 0;
    PerId<VertexId, bool> up(mesh.vertex.size()), down(mesh.vertex.size());
    for (const TriangleId t : skip.ids())
        for (int i = 0; i < 3; ++i) {
            const TriangleId n = mesh.triangle[t].neighbour[i];
            if (n < t || skip[t] || skip[n]) continue;
            const Fold found = fold_at(mesh, t, i);
            turns.push_back(std::abs(found.turn));
            lengths.push_back(found.length);
            if (found.turn > fold) ++sharp_up;
            if (found.turn < -fold) ++sharp_down;
            for (const int end : {i, (i + 1) % 3}) {
                const VertexId v = mesh.triangle[t].vertex[end];
                if (found.turn > wave) up[v] = true;
                if (found.turn < -wave) down[v] = true;
            }
        }
    if (turns.size() < fewest_edges || std::min(sharp_up, sharp_down) < folds) return std::nullopt;
    RoughScan rough;
    std::size_t both = 0;
    double nearest = std::numeric_limits<double>::infinity();
    for (const VertexId v : up.ids()) {
        if (!(up[v] && down[v])) continue;
        ++both;
        const double off = (mesh.vertex[v].position - damage).norm();
        if (!(off < nearest)) continue;
        nearest = off;
        rough.at = mesh.vertex[v].position;
    }
    rough.most = *std::max_element(turns.begin(), turns.end());
    rough.turn = middle_of(std::move(turns));
    rough.thin_to = middle_of(std::move(lengths)) * rough.turn / fair_turn;
    const double share = static_cast<double>(both) / static_cast<double>(up.size());
    if (!(share > most_waves && rough.turn > rough_turn)) return std::nullopt;
    return rough;
}

}  // namespace tearline::patch

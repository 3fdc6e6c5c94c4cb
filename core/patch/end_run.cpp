#include "core/patch/end_run.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <unordered_map>

#include "core/base/angle_between.h"
#include "core/patch/tolerances.h"

namespace tearline::patch {
namespace {

/// What a rim vertex is to the hull's end that comes to it and leaves it.
struct RimVertex {
    std::int32_t vertex = -1;
    bool ends_here = false;  ///< the side that leaves it is the hull's own end
    Vec3 leaving{0, 0, 1};   ///< normal of the side that leaves it
    Vec3 coming{0, 0, 1};    ///< and of the one that comes to it
};

struct RimSide {
    std::size_t triangle = 0;
    int edge = 0;
};

std::vector<RimVertex> described(const surface::Patch& patch, const std::vector<std::int32_t>& loop,
                                 const std::unordered_map<std::int32_t, RimSide>& leaving) {
    std::vector<RimVertex> out(loop.size());
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const RimSide& side = leaving.at(loop[i]);
        const auto& normal = patch.mesh.corner_normal[side.triangle];
        out[i].vertex = loop[i];
        out[i].ends_here = patch.hull_end[side.triangle][side.edge];
        out[i].leaving = normal[side.edge];
        out[(i + 1) % loop.size()].coming = normal[(side.edge + 1) % 3];
    }
    return out;
}

/// Whether the end is no smooth way through a vertex of its rim.
bool stops_at(const surface::Patch& patch, const std::vector<RimVertex>& rim, std::size_t i) {
    const std::size_t n = rim.size();
    if (!rim[i].ends_here || !rim[(i + n - 1) % n].ends_here) return true;
    const auto place = [&](std::size_t k) { return patch.mesh.position[rim[k % n].vertex]; };
    constexpr double degree = std::numbers::pi / 180.0;
    return angle_between(place(i) - place(i + n - 1), place(i + 1) - place(i)) >
               tolerance::rim_corner_degrees * degree ||
           angle_between(rim[i].coming, rim[i].leaving) > tolerance::end_crease_degrees * degree;
}

void add_point(const surface::Patch& patch, const RimVertex& v, const Vec3& normal, EndRun& run) {
    run.vertex.push_back(v.vertex);
    run.chart.push_back(patch.chart[v.vertex]);
    run.normal.push_back(normal.normalized());
}

void add_runs(const surface::Patch& patch, const std::vector<RimVertex>& rim, const Vec3& far_from,
              std::vector<EndRun>& runs) {
    const std::size_t n = rim.size();
    std::vector<bool> stops(n);
    for (std::size_t i = 0; i < n; ++i) stops[i] = stops_at(patch, rim, i);
    if (std::none_of(stops.begin(), stops.end(), [](bool stop) { return stop; })) {
        const auto from = [&](std::size_t i) {
            return (patch.mesh.position[rim[i].vertex] - far_from).squaredNorm();
        };
        std::size_t far = 0;
        for (std::size_t i = 1; i < n; ++i)
            if (from(i) > from(far)) far = i;
        stops[far] = true;
    }
    for (std::size_t start = 0; start < n; ++start) {
        if (!stops[start] || !rim[start].ends_here) continue;
        EndRun run;
        add_point(patch, rim[start], rim[start].leaving, run);
        std::size_t i = start;
        do {
            i = (i + 1) % n;
            add_point(patch, rim[i],
                      stops[i] ? rim[i].coming : Vec3(rim[i].coming + rim[i].leaving), run);
        } while (!stops[i]);
        runs.push_back(std::move(run));
    }
}

}  // namespace

std::vector<EndRun> end_runs(const surface::Patch& patch, const Vec3& far_from) {
    std::unordered_map<std::int32_t, RimSide> leaving;
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (patch.neighbour[t][i] < 0) leaving[patch.mesh.triangle[t][i]] = {t, i};
    std::vector<EndRun> runs;
    for (const auto& loop : surface::boundary_loops(patch.mesh))
        add_runs(patch, described(patch, loop, leaving), far_from, runs);
    return runs;
}

}  // namespace tearline::patch

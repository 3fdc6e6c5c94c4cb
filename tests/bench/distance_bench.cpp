#include <benchmark/benchmark.h>

#include <map>

#include "core/dish/offset_distance.h"
#include "core/plies/mesh_region.h"
#include "core/plies/net_region.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"

/// Outline offset by 150 mm from 200 points, and what hangs on it (bars: DEFINITIONS.md): on a
/// sphere of 800 mm radius, at about 2k, 20k and 200k triangles.
namespace tearline {
namespace {

struct Ground {
    surface::Patch patch;
    damage::DamageOutline outline;
};

/// @param edge  [0.1 mm] of the patch's triangles
const Ground& ground(std::int64_t edge) {
    static std::map<std::int64_t, Ground> grounds;
    auto& g = grounds[edge];
    if (g.outline.points.empty()) {
        g.patch = test::analytic_patch(test::sphere_map(800), test::within_disc(340), 340,
                                       static_cast<double>(edge) / 10.0);
        g.outline = test::chart_outline(g.patch, test::circle_curve({0, 0}, 150), 200);
    }
    return g;
}

void count(benchmark::State& state, const Ground& g) {
    state.counters["triangles"] = static_cast<double>(g.patch.mesh.triangle.size());
}

void outline_offset(benchmark::State& state) {
    const Ground& g = ground(state.range(0));
    const std::vector<double> offsets{150.0};
    for (auto _ : state) benchmark::DoNotOptimize(plies::net_regions(g.patch, g.outline, offsets));
    count(state, g);
}

void eight_plies(benchmark::State& state) {
    const Ground& g = ground(state.range(0));
    const std::vector<double> offsets{0, 12, 25, 37, 50, 62, 75, 87, 100, 120, 150};
    for (auto _ : state) benchmark::DoNotOptimize(plies::net_regions(g.patch, g.outline, offsets));
    count(state, g);
}

void mesh_a_ply(benchmark::State& state) {
    const Ground& g = ground(state.range(0));
    const std::vector<double> offsets{150.0};
    const auto regions = plies::net_regions(g.patch, g.outline, offsets).value();
    for (auto _ : state) benchmark::DoNotOptimize(plies::mesh_region(g.patch, regions[0].chart[0]));
    count(state, g);
}

void distance_lookup(benchmark::State& state) {
    const Ground& g = ground(state.range(0));
    const std::vector<double> offsets{150.0};
    const dish::OffsetDistance distance(dish::sweep_offsets(g.patch, g.outline, offsets));
    int i = 0;
    for (auto _ : state) {
        const Vec2 p(i % 540 - 270, (7 * i) % 540 - 270);
        benchmark::DoNotOptimize(distance.at(p));
        ++i;
    }
}

BENCHMARK(outline_offset)->Arg(196)->Arg(64)->Arg(20)->Unit(benchmark::kMillisecond);
BENCHMARK(eight_plies)->Arg(196)->Arg(64)->Arg(20)->Unit(benchmark::kMillisecond);
BENCHMARK(mesh_a_ply)->Arg(196)->Arg(64)->Arg(20)->Unit(benchmark::kMillisecond);
BENCHMARK(distance_lookup)->Arg(64);

}  // namespace
}  // namespace tearline

BENCHMARK_MAIN();

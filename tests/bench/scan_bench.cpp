// The fair surface about a patch of 600 mm beside CGAL's filling of the same hole in the same
// points, with and without its jet smoothing: time, and how far off the middle is. Bars
// (DEFINITIONS.md): 0.5 s from 100 000 points, a whole plan from 5 million triangles in 6 s.
#include <benchmark/benchmark.h>

#include <cmath>

#include "tests/reference/cgal/hole_filling.h"
#include "tests/support/bridged_shapes.h"

extern "C" void openblas_set_num_threads(int count);

namespace tearline {
namespace {

using scanned::Scanner;
using scanned::Shape;

/// Structured light on a cylinder of 300 mm, `state.range(0)` points in a row.
struct Case {
    explicit Case(const benchmark::State& state)
        : shape(scanned::arcs(0, 1 / 300.0)), across(static_cast<std::size_t>(state.range(0))) {
        by.spread = 0.1;
        by.half = 320.0;
        by.spacing = 2.0 * by.half / (static_cast<double>(across) - 1.0);
        by.half += 1e-6;  // the last of a row, too
        points = scanned::scan_of(shape, by);
        hole = scanned::in_hole(shape, points);
    }
    Shape shape;
    std::size_t across;
    Scanner by;
    std::vector<Vec3> points;
    std::vector<bool> hole;
};

void tell(benchmark::State& state, const Case& of, double off) {
    state.counters["points"] = static_cast<double>(of.points.size());
    state.counters["off_mm"] = std::abs(off);
}

void fair_surface(benchmark::State& state) {
    const Case of(state);
    double off = 0.0;
    for (auto _ : state) {
        const auto surface = scan::fair_surface(of.points, scanned::request_for(of.shape, of.by));
        if (!surface) return state.SkipWithError(surface.error().message().c_str());
        off = surface->off(of.shape({0, 0}, 0.0));
    }
    tell(state, of, off);
}

void filled(benchmark::State& state, const Case& of, const std::vector<Vec3>& points, double& off) {
    const auto height =
        scanned::height_in_middle(of.shape, test::cgal_filled({points, of.across}, of.hole, 1));
    if (!height) return state.SkipWithError("nothing over the middle");
    off = *height;
}

void cgal_fairing(benchmark::State& state) {
    const Case of(state);
    double off = 0.0;
    for (auto _ : state) filled(state, of, of.points, off);
    tell(state, of, off);
}

void cgal_jets_and_fairing(benchmark::State& state) {
    const Case of(state);
    double off = 0.0;
    for (auto _ : state) filled(state, of, test::cgal_jet_smoothed(of.points, 60), off);
    tell(state, of, off);
}

// 129 a row are 16 641 points, 317 are 100 489.
BENCHMARK(fair_surface)->Arg(129)->Arg(317)->Unit(benchmark::kMillisecond);
BENCHMARK(cgal_fairing)->Arg(129)->Arg(317)->Unit(benchmark::kMillisecond);
BENCHMARK(cgal_jets_and_fairing)->Arg(129)->Arg(317)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace tearline

int main(int argc, char** argv) {
    openblas_set_num_threads(1);  // a core's worth, whatever is free
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
}

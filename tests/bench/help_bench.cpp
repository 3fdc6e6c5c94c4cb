#include <benchmark/benchmark.h>

#include <stdexcept>

#include "core/pieces/lay_down.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/seams.h"
#include "tests/support/analytic_patch.h"

/// What it costs to find help for a piece that is over its limit, beside laying the same piece flat
/// without any. The relief-cut search must stay under ten plain flattenings.
namespace tearline {
namespace {

/// Mat of 440 mm on a ball of 300 mm radius: over its 5 % in one piece, cut twice or so it lies.
struct Ball {
    surface::Patch patch =
        test::analytic_patch(test::sphere_map(300.0), test::within_disc(270), 280, 12);
    pieces::PlyShape shape;
    plies::LaySurface whole;

    Ball() {
        shape.patch = &patch;
        for (int i = 0; i < 240; ++i) {
            const double a = 2.0 * std::numbers::pi * i / 240;
            shape.region.outer.emplace_back(220.0 * std::cos(a), 220.0 * std::sin(a));
        }
        shape.depth = [](const Vec2&) { return 0.0; };
        shape.ply = 1;
        auto lay = pieces::lay_with_lines(shape, {});
        if (!lay) throw std::runtime_error(lay.error().message());
        whole = std::move(*lay);
    }
};

const Ball& ball() {
    static const Ball one;
    return one;
}

void plain_flattening(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(pieces::make_piece(ball().whole, "1A"));
}

/// The plain flattening, the search, the mesh made for the cuts it chose and the cut piece.
void relief_cuts(benchmark::State& state) {
    for (auto _ : state) {
        const auto laid = pieces::lay_down(ball().shape, ball().whole, {});
        if (!laid || laid->pieces.size() != 1 || laid->pieces[0].cuts.empty())
            state.SkipWithError("no relief cuts");
    }
}

void torn_pieces(benchmark::State& state) {
    pieces::PlyShape shape = ball().shape;
    shape.fabric.strain_limit = 0.015;
    for (auto _ : state) {
        const auto laid = pieces::lay_down(shape, ball().whole, {});
        if (!laid || laid->pieces.size() < 2) state.SkipWithError("not in pieces");
    }
}

void cloth_with_its_start(benchmark::State& state) {
    pieces::PlyShape shape = ball().shape;
    shape.fabric.kind = job::FabricKind::woven;
    for (auto _ : state) benchmark::DoNotOptimize(pieces::lay_down(shape, ball().whole, {}));
}

BENCHMARK(plain_flattening)->Unit(benchmark::kMillisecond);
BENCHMARK(relief_cuts)->Unit(benchmark::kMillisecond);
BENCHMARK(torn_pieces)->Unit(benchmark::kMillisecond);
BENCHMARK(cloth_with_its_start)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace tearline

BENCHMARK_MAIN();

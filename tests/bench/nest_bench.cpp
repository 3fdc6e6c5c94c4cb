#include <benchmark/benchmark.h>

#include "tests/support/irregular_shapes.h"

/// Roll layout: irregular pieces on a roll 1250 mm wide, by the usual search and by one ten times
/// as long. `longer` is how much longer the usual one's strip is (bar: 1.10), `area` how far it is
/// above the bound by area; thirty pieces must take under 2 s.

namespace {

using namespace tearline;

constexpr double width = 1250.0;
constexpr std::uint32_t start_value = 21;

void lay_pieces(benchmark::State& state) {
    const auto count = static_cast<std::size_t>(state.range(0));
    const auto shapes = test_support::irregular_shapes(count, start_value);
    const int passes = static_cast<int>(state.range(1)) * layout::usual_passes(count);
    layout::Nest found;
    for (auto _ : state)
        benchmark::DoNotOptimize(found = layout::nest(shapes, width, {.most_passes = passes}));
    const auto ten_times =
        layout::nest(shapes, width, {.most_passes = 10 * layout::usual_passes(count)});
    double area = 0.0;
    for (const layout::Shape& shape : shapes) area += signed_area(shape.outline);
    state.counters["longer"] = found.length / ten_times.length;
    state.counters["area"] = found.length * width / area;
}

BENCHMARK(lay_pieces)->ArgsProduct({{8, 30}, {1, 10}})->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

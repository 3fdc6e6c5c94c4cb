#include <benchmark/benchmark.h>

#include <stdexcept>

#include "core/flattening/flatten_membrane.h"
#include "core/flattening/pin_jointed_net.h"
#include "tests/support/hull_like_shapes.h"

/// The pin-jointed net over about 1 m2 of bumpy side (4k triangles) at 1, 5 and 10 mm cells, beside
/// the membrane flattening of the same mesh that its picture comes from.
namespace tearline {
namespace {

struct Side {
    surface::SurfaceMesh mesh;
    std::vector<Vec2> flat;
};

const Side& side() {
    static const Side one = [] {
        Side s{test::on_graph(test::disc(560.0, 26), test::bumpy_shape), {}};
        auto flat = flattening::flatten_membrane(s.mesh);
        if (!flat) throw std::runtime_error(flat.error().message());
        s.flat = std::move(flat->flat);
        return s;
    }();
    return one;
}

void membrane(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(flattening::flatten_membrane(side().mesh));
}

void net(benchmark::State& state) {
    const flattening::MetricChart chart(side().mesh, side().flat);
    for (auto _ : state) {
        const auto laid = flattening::PinJointedNet::laid(
            chart, side().flat[0], Vec2(1.0, 0.0), {.cell = static_cast<double>(state.range(0))});
        if (!laid) state.SkipWithError(laid.error().message().c_str());
    }
}

BENCHMARK(membrane)->Unit(benchmark::kMillisecond);
BENCHMARK(net)->Arg(1)->Arg(5)->Arg(10)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace tearline

BENCHMARK_MAIN();

// Reading a model, welding and mending it, turning it outward. Bars: a million-facet scan well
// under 1.2 s and 150 MB + 600 bytes a triangle; a sample hull in STEP under 60 ms.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include "core/hull/read_hull.h"
#include "tests/support/scan.h"

namespace tearline {
namespace {

void read_scan(benchmark::State& state) {
    const test::Folder folder;
    job::HullOptions options;
    options.model =
        folder.write("scan.stl", test::scan_stl(static_cast<std::size_t>(state.range(0))));
    options.unit = "mm";
    std::size_t triangles = 0;
    for (auto _ : state) {
        const auto hull = hull::read_hull(options, job::Side::outside);
        if (!hull) return state.SkipWithError(hull.error().message().c_str());
        triangles = hull->triangles.size();
    }
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    state.counters["triangles"] = static_cast<double>(triangles);
    state.counters["peak_MB"] = static_cast<double>(used.ru_maxrss) / 1024.0;
}
BENCHMARK(read_scan)->Arg(2000)->Arg(20000)->Arg(200000)->Arg(1000000)->Unit(
    benchmark::kMillisecond);

void read_sample(benchmark::State& state, const char* name) {
    job::HullOptions options;
    options.model = std::string(TEARLINE_SAMPLES) + "/" + name;
    for (auto _ : state) {
        const auto hull = hull::read_hull(options, job::Side::outside);
        if (!hull) return state.SkipWithError(hull.error().message().c_str());
    }
}
BENCHMARK_CAPTURE(read_sample, curlew, "curlew.step")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read_sample, sandpiper, "sandpiper.step")->Unit(benchmark::kMillisecond);

void evaluate_face(benchmark::State& state, const char* name) {
    job::HullOptions options;
    options.model = std::string(TEARLINE_SAMPLES) + "/" + name;
    const auto hull = hull::read_hull(options, job::Side::outside);
    if (!hull) return state.SkipWithError(hull.error().message().c_str());
    std::size_t t = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(hull->cad->evaluate(hull->face[t], hull->corner_uv[t][0]));
        t = (t + 1) % hull->triangles.size();
    }
}
BENCHMARK_CAPTURE(evaluate_face, curlew, "curlew.step");
BENCHMARK_CAPTURE(evaluate_face, sandpiper, "sandpiper.step");

}  // namespace
}  // namespace tearline

BENCHMARK_MAIN();

// Whole plans, every file but PDF written, and the patch alone. Bars (DEFINITIONS.md): 0.3 s from
// a STEP file, 4 s and 150 MB + 600 bytes a triangle from a scan of a million.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <filesystem>

#include "core/files/write_plan.h"
#include "core/hull/read_hull.h"
#include "core/patch/build_patch.h"
#include "tests/support/planned.h"
#include "tests/support/scan.h"

namespace tearline {
namespace {

void plan_and_write(benchmark::State& state, const job::Job& job,
                    const std::filesystem::path& folder) {
    for (auto _ : state) {
        const auto plan = plan_repair(job);
        if (!plan) return state.SkipWithError(plan.error().message().c_str());
        const auto written = files::write_plan(*plan, folder, {});
        if (!written) return state.SkipWithError(written.error().message().c_str());
    }
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    state.counters["peak_MB"] = static_cast<double>(used.ru_maxrss) / 1024.0;
}

void plan_sample(benchmark::State& state, const std::string& name) {
    const test::Folder folder;
    plan_and_write(state, test::job_of(test::sample_text(name)),
                   folder.write("kept", "").parent_path() / "out");
}
BENCHMARK_CAPTURE(plan_sample, curlew_step, "curlew")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(plan_sample, sandpiper_step, "sandpiper")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(plan_sample, curlew_stl, "curlew-scan")->Unit(benchmark::kMillisecond);

/// A disc of 300 mm on the side of the scanned hull, eight mats.
std::string scan_job() {
    return "[hull]\nmodel = \"scan.stl\"\nunit = \"mm\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
           "skin = \"9 mm\"\n[damage]\ncentre = [2500, -742, -742]\nradius = 300\ndepth = 6.3\n"
           "[scarf]\nratio = 12\n[layup]\nfill = \"mat 450\"\ncover = [\"mat 300\", \"mat 300\"]\n";
}

void plan_scan(benchmark::State& state) {
    const test::Folder folder;
    const auto model =
        folder.write("scan.stl", test::scan_stl(static_cast<std::size_t>(state.range(0))));
    plan_and_write(state, test::job_of(scan_job(), model.parent_path().string()),
                   folder.write("kept", "").parent_path() / "out");
}
BENCHMARK(plan_scan)->Arg(2000)->Arg(20000)->Arg(200000)->Arg(1000000)->Unit(
    benchmark::kMillisecond);

/// The patch round the damage of the curlew, of about so many triangles.
void mesh_patch(benchmark::State& state) {
    const auto job = test::job_of(test::sample_text("curlew"));
    const auto hull = hull::read_hull(job.hull, job.damage.side);
    if (!hull) return state.SkipWithError(hull.error().message().c_str());
    auto request = patch::patch_request(job, 200.0);
    request.triangles = static_cast<std::size_t>(state.range(0));
    std::size_t triangles = 0;
    for (auto _ : state) {
        const auto patch = patch::build_patch(*hull, request);
        if (!patch) return state.SkipWithError(patch.error().message().c_str());
        triangles = patch->mesh.triangle.size();
    }
    state.counters["triangles"] = static_cast<double>(triangles);
}
BENCHMARK(mesh_patch)->Arg(2000)->Arg(20000)->Arg(200000)->Unit(benchmark::kMillisecond);
BENCHMARK(mesh_patch)->Arg(1000000)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace
}  // namespace tearline

BENCHMARK_MAIN();

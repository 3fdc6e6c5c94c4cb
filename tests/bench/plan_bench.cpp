// Whole plans, every file but PDF written, and the patch alone. Bars (DEFINITIONS.md): 0.3 s from
// a STEP file, 4 s and 150 MB + 600 bytes a triangle from a scan of a million, 20 s and 1 GB for
// the largest work that there is.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <limits>
#include <string>

#include "core/files/write_plan.h"
#include "core/formats/plan_json.h"
#include "core/hull/read_hull.h"
#include "core/patch/build_patch.h"
#include "core/plan/laid_place.h"
#include "core/plan/plan_repair.h"
#include "tests/bench/bar.h"
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

/// Planned again and again on a hull that is kept, as in `serve`, by turns with two values of a
/// key, and by turns with a whole plan from its file on: on both processors, by the clock on the
/// wall.
///
/// @param bar  [-] of the whole plan's time: those of DEFINITIONS.md by each other
void plan_again(benchmark::State& state, const std::string& table, const std::string& key,
                double bar) {
    const std::string text = test::sample_text("curlew");
    std::vector<job::Job> jobs;
    for (const char* value : {"10", "14"}) {
        std::string other = text;
        const auto at = other.find(key + " = ");
        if (at != std::string::npos) other.erase(at, other.find('\n', at) - at);
        other.insert(other.find(table) + table.size(), "\n" + key + " = " + value);
        jobs.push_back(test::job_of(other));
    }
    const auto hull = hull::read_hull(jobs[0].hull, jobs[0].damage.side);
    if (!hull) return state.SkipWithError(hull.error().message().c_str());
    const test::Folder folder;
    const auto out = folder.write("kept", "").parent_path() / "out";
    plan::KeptPlace kept;
    std::size_t turn = 0;
    double whole = std::numeric_limits<double>::infinity(), again = whole;
    for (auto _ : state) {
        const job::Job& job = jobs[turn++ % 2];
        const auto seconds = [](auto work) { return bench::seconds_of(CLOCK_MONOTONIC, work); };
        whole = std::min(whole, seconds([&] {
                             const auto plan = plan_repair(job);
                             if (plan) (void)files::write_plan(*plan, out, {});
                         }));
        const double now = seconds([&] {
            const auto plan = plan_repair(job, *hull, kept);
            if (plan) benchmark::DoNotOptimize(formats::plan_json(*plan));
        });
        state.SetIterationTime(now);
        if (turn > 1) again = std::min(again, now);  // the first one lays the place
    }
    bench::hold(state, again / whole, bar);
}
BENCHMARK_CAPTURE(plan_again, other_ratio, "[scarf]", "ratio", 0.12 / 0.30)
    ->Unit(benchmark::kMillisecond)
    ->UseManualTime()
    ->Iterations(12);
BENCHMARK_CAPTURE(plan_again, other_resin, "[resin]", "recoat_hours", 0.01 / 0.30)
    ->Unit(benchmark::kMillisecond)
    ->UseManualTime()
    ->Iterations(12);

void plan_scan(benchmark::State& state) {
    const test::Folder folder;
    const auto model =
        folder.write("scan.stl", test::scan_stl(static_cast<std::size_t>(state.range(0))));
    plan_and_write(state, test::job_of(scan_job(), model.parent_path().string()),
                   folder.write("kept", "").parent_path() / "out");
}
BENCHMARK(plan_scan)->Arg(2000)->Arg(20000)->Arg(200000)->Arg(1000000)->Unit(
    benchmark::kMillisecond);

/// Sixty plies, the most there may be, covers among them.
void plan_sixty_plies(benchmark::State& state) {
    const test::Folder folder;
    std::string text = test::sample_text("curlew");
    text = text.substr(0, text.find("[damage]"));
    text +=
        "[damage]\ncentre = [2700, 1025.5, 432.1]\nradius = 80\ndepth = \"30 mm\"\n"
        "[scarf]\nratio = 8\n[layup]\nstack = [";
    for (int k = 0; k < 55; ++k) text += "\"mat 225\", ";
    text += "]\ncover = [\"mat 225\", \"mat 225\", \"mat 225\", \"mat 225\", \"mat 225\"]\n";
    text.replace(text.find("skin = "), text.find('\n', text.find("skin = ")) - text.find("skin = "),
                 "skin = \"40 mm\"");
    plan_and_write(state, test::job_of(text), folder.write("kept", "").parent_path() / "out");
}
BENCHMARK(plan_sixty_plies)->Unit(benchmark::kSecond)->Iterations(1);

/// A hull of 30 m by 7, parabolic along, an ellipse across, as OBJ.
std::string large_hull() {
    constexpr int along = 400, across = 160;
    std::string text;
    for (int i = 0; i < along; ++i)
        for (int k = 0; k < across; ++k) {
            const double x = -1.0 + 2.0 * i / (along - 1),
                         turn = (1.0 * k / (across - 1) - 0.5) * 3.14;
            text += "v " + std::to_string(15000.0 * x) + " " +
                    std::to_string(3500.0 * (1.0 - 0.9 * x * x) * std::sin(turn)) + " " +
                    std::to_string(-3000.0 * (1.0 - 0.5 * x * x * x * x) * std::cos(turn)) + "\n";
        }
    for (int i = 0; i + 1 < along; ++i)
        for (int k = 1; k < across; ++k) {
            const int a = i * across + k, b = a + across;
            text += "f " + std::to_string(a) + " " + std::to_string(b) + " " +
                    std::to_string(b + 1) + " " + std::to_string(a + 1) + "\n";
        }
    return text;
}

/// A damage of 3 m radius, 25 mm deep: 26 plies in some 150 pieces.
void plan_large_damage(benchmark::State& state) {
    const test::Folder folder;
    const auto model = folder.write("large.obj", large_hull());
    plan_and_write(state,
                   test::job_of("[hull]\nmodel = \"large.obj\"\nunit = \"mm\"\nbow = [1, 0, 0]\n"
                                "up = [0, 0, 1]\nmirror = false\n[damage]\ncentre = [0, 0, -3000]\n"
                                "radius = \"3 m\"\ndepth = 25\n[layup]\nfill = \"mat 450\"\n",
                                model.parent_path().string()),
                   folder.write("kept", "").parent_path() / "out");
}
BENCHMARK(plan_large_damage)->Unit(benchmark::kSecond)->Iterations(1);

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

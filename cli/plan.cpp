#include <unistd.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "cli/commands.h"
#include "core/base/numbers.h"
#include "core/job/read_job.h"
#include "core/output/write_plan.h"
#include "core/plan_repair.h"

namespace tearline::cli {

namespace {

struct PlanWords {
    std::string job;
    std::string folder;
    std::vector<std::string> formats{"svg", "dxf"};
    bool json = false;
    bool mirror = false;
    std::string print_scale = "1";
    int after_ply = 0;
};

/// Progress on one line that is rewritten; nothing where no person watches.
Progress progress_line() {
    if (isatty(STDERR_FILENO) == 0) return {};
    return [](std::string_view stage, double fraction) {
        std::fprintf(stderr, "\r\033[K%3d %%  %.*s", static_cast<int>(fraction * 100.0),
                     static_cast<int>(stage.size()), stage.data());
        if (fraction >= 1.0) std::fprintf(stderr, "\r\033[K");
        std::fflush(stderr);
        return true;
    };
}

output::OutputOptions output_options(const PlanWords& words) {
    output::OutputOptions options;
    options.formats.clear();
    for (const std::string& name : words.formats)
        options.formats.push_back(output::format_named(name).value());
    options.mirror = words.mirror;
    options.print_scale = read_number(words.print_scale).value();
    return options;
}

std::string check_print_scale(const std::string& text) {
    const auto scale = read_number(text);
    if (scale && *scale >= 0.9 && *scale <= 1.1) return {};
    return "'" + text +
           "' is no print scale: it is 100 divided by the length in mm that a printed "
           "100 mm bar measures, between 0.9 and 1.1";
}

int run_plan(const PlanWords& words) {
    auto job = job::read_job(words.job);
    if (!job) return report(job.error());
    job->after_ply = words.after_ply;
    const Progress progress = progress_line();
    const auto plan = plan_repair(*job, progress);
    if (progress) progress("", 1.0);
    if (!plan) return report(plan.error());
    report(plan->warnings);
    if (const auto written = output::write_plan(*plan, words.folder, output_options(words));
        !written)
        return report(written.error());
    if (words.json) {
        const std::string json = output::plan_json(*plan);
        if (std::fwrite(json.data(), 1, json.size(), stdout) != json.size() ||
            std::fflush(stdout) != 0)
            return report(Error{ErrorKind::output_failed, "stdout: the plan could not be written"});
    }
    std::size_t pieces = 0;
    for (const PlannedPly& ply : plan->plies) pieces += ply.pieces.size();
    std::fprintf(stderr, "%zu plies, %zu templates: %s\n", plan->plies.size(), pieces,
                 (std::filesystem::path(words.folder) / "overview.svg").c_str());
    return exit_done;
}

}  // namespace

void add_plan(CLI::App& app, int& status) {
    auto words = std::make_shared<PlanWords>();
    CLI::App* command =
        app.add_subcommand("plan", "hull and job file to templates, quantities and files");
    command->add_option("JOB", words->job, "job file (TOML)")->required();
    command->add_option("-o", words->folder, "folder to write: absent, empty, or an earlier plan's")
        ->required()
        ->type_name("DIR");
    command->add_option("--format", words->formats, "svg, dxf, dxf2000, hpgl, pdf")
        ->delimiter(',')
        ->check(CLI::IsMember({"svg", "dxf", "dxf2000", "hpgl", "pdf"}))
        ->type_name("LIST");
    command
        ->add_option("--after", words->after_ply,
                     "plan what is left on the cured work after this ply, by soundings on it")
        ->check(CLI::Range(1, 500))
        ->type_name("PLY");
    command->add_flag("--json", words->json, "put the plan on stdout as well");
    command->add_flag("--mirror", words->mirror, "templates turned over, and marked so");
    command
        ->add_option("--print-scale", words->print_scale,
                     "for a printer that prints short: 100 / measured length of a 100 mm bar")
        ->check(CLI::Validator(check_print_scale, "S"))
        ->type_name("");
    command->callback([words, &status] { status = run_plan(*words); });
}

}  // namespace tearline::cli

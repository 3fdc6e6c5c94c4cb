#include <unistd.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Error.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <cstdio>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "cli/commands.h"
#include "cli/output_words.h"
#include "cli/plan_boat.h"
#include "cli/vary.h"
#include "core/base/sha256.h"
#include "core/files/replace_folder.h"
#include "core/ground/job_hull.h"
#include "core/job/boat_job.h"
#include "core/job/in_file.h"
#include "core/job/most_plies.h"
#include "core/job/read_job.h"
#include "core/job/watched_files.h"
#include "core/page/page.h"
#include "core/plan/plan_repair.h"

namespace tearline::cli {

namespace {

struct PlanWords {
    std::string job;
    OutputWords output;
    int after_ply = 0;
    std::vector<std::string> variations;
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

/// A comparison writes files of its own: what shapes a plan's would be taken without a word.
void check_vary(const CLI::App& command, const PlanWords& words) {
    for (const char* option :
         {"--format", "--json", "--mirror", "--print-scale", "--paper", "--less-paper",
          "--cutter-files", "--chord-error", "--arcs", "--drill", "--pens"})
        if (command.count(option) > 0)
            throw CLI::ValidationError(
                option,
                "does nothing with --vary, which compares: plan the one you choose with it");
    check_variations(words.variations);
}

/// The plan; for a page the whole hull is kept beside it.
Result<Plan> planned(const job::Job& job, files::OutputOptions& options, const Progress& progress) {
    if (!options.wants(files::Format::page)) return plan_repair(job, progress);
    const job::WatchedFiles watched(job);
    auto read = ground::read_job_hull(job);
    if (!read) return tl::unexpected(job::in_file(job, read.error()));
    options.hull = page::shape_of(read->hull);
    return job::of_unchanged(job, watched, plan_repair(read->job, read->hull, progress));
}

int run_plan(const PlanWords& words) {
    const auto text = job::read_job_text(words.job);
    if (!text) return report(text.error());
    // Told before the work, not after it.
    const std::string& folder = words.output.folder;
    const auto check = [&]() -> Result<void> {
        return folder.empty() ? Result<void>() : files::check_folder(folder);
    };
    auto read = job::parse_any_job(*text, words.job);
    if (!read) return report(read.error());
    if (const auto free = check(); !free) return report(free.error());
    if (const auto* boat = std::get_if<job::BoatJob>(&*read))
        return run_plan_boat({words.job, words.output, words.after_ply}, *boat, *text);
    auto* const job = std::get_if<job::Job>(&*read);
    job->after_ply = words.after_ply;
    files::OutputOptions options = output_options(words.output);
    const Progress progress = progress_line();
    const auto plan = planned(*job, options, progress);
    if (progress) progress("", 1.0);
    if (!plan) return report(plan.error());
    report(plan->warnings);
    const auto handed = hand_over(*plan, words.output, options, sha256_hex(*text));
    if (!handed) return report(handed.error());
    const std::size_t plies = plan->plies.size();
    tell_templates(*plan, words.output,
                   std::to_string(plies) + (plies == 1 ? " ply, " : " plies, "));
    return exit_done;
}

}  // namespace

void add_plan(CLI::App& app, int& status) {
    auto words = std::make_shared<PlanWords>();
    CLI::App* command =
        app.add_subcommand("plan", "hull and job file to templates, quantities and files");
    command->add_option("JOB", words->job, "job file (TOML)")->required();
    add_output_options(*command, words->output);
    command
        ->add_option("--after", words->after_ply,
                     "plan what is left on the cured work after this ply, by soundings on it")
        ->check(CLI::Range(1, static_cast<int>(job::most_plies)))
        ->type_name("PLY");
    command->add_flag("--less-paper", words->output.less_paper,
                      "pdf (asks for it by itself): one ring sheet for all mat plies where right");
    add_read_limits(*command);
    command
        ->add_option("--vary", words->variations,
                     "no plan, a comparison: every combination of these values of a key side by "
                     "side, with what is best in what marked; KEY=A,B may come several times; in "
                     "DIR variants.csv and variants.html")
        ->allow_extra_args(false)
        ->type_name("KEY=A,B");
    command->callback([words, command, &status] {
        if (!words->variations.empty()) {
            check_vary(*command, *words);
            status =
                run_vary({words->job, words->output.folder, words->variations, words->after_ply});
            return;
        }
        refuse_useless(*command, words->output);
        status = run_plan(*words);
    });
}

}  // namespace tearline::cli

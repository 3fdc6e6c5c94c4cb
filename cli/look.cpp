#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "cli/commands.h"
#include "core/base/printable.h"
#include "core/files/write_page.h"
#include "core/ground/job_hull.h"
#include "core/hull/read_hull.h"
#include "core/job/boat_job.h"
#include "core/job/in_file.h"
#include "core/job/read_job.h"
#include "core/job/watched_files.h"
#include "core/page/page.h"
#include "core/plan/plan_repair.h"
#include "core/scan/scan.h"

namespace tearline::cli {

namespace {

namespace fs = std::filesystem;

struct LookWords {
    std::string shown;  ///< a model or a job file
    std::string unit, scan;
    std::string page;
};

bool ends_in(const std::string& file, std::initializer_list<const char*> endings) {
    const std::string ending = fs::path(file).extension().string();
    return std::any_of(endings.begin(), endings.end(),
                       [&](const char* one) { return ending == one; });
}

int write(const LookWords& words, const std::string& page, const char* then) {
    if (const auto written = files::write_page(words.page, page); !written)
        return report(written.error());
    std::fprintf(stderr, "%s: %s\n", printable(words.page).c_str(), then);
    return exit_done;
}

/// A scan as its file has it: no surface is asked of it.
int look_at_scan(const LookWords& words) {
    if (words.unit.empty())
        return report(
            bad_input("--unit", "required: scans name no unit; give --unit mm, or cm, m, in, ft")
                .value());
    auto scan = scan::read_scan(words.shown, words.unit);
    if (!scan) return report(scan.error());
    return write(words,
                 page::model_page({{std::move(scan->points), std::move(scan->triangles)},
                                   fs::path(words.shown).filename().string(),
                                   words.unit,
                                   words.scan.empty() ? "light" : words.scan}),
                 "open it in a browser, pick the points, save the job file");
}

int look_at_model(const LookWords& words) {
    const std::optional<std::string> unit =
        words.unit.empty() ? std::nullopt : std::optional(words.unit);
    auto hull = hull::inspect_hull(words.shown, unit, hull::UnitFrom::command_line);
    if (!hull) return report(hull.error());
    report(hull->warnings);
    const bool own_unit = !ends_in(words.shown, {".stl", ".obj", ".ply"});
    return write(words,
                 page::model_page({page::shape_of(*hull), fs::path(words.shown).filename().string(),
                                   own_unit ? "" : words.unit, ""}),
                 "open it in a browser, pick the points, save the job file");
}

int look_at_job(const LookWords& words) {
    const auto text = job::read_job_text(words.shown);
    if (!text) return report(text.error());
    if (job::is_boat(*text))
        return report(
            bad_input(words.shown,
                      "is of a boat of several places, each with a page of its own: "
                      "tearline plan JOB -o DIR --format page writes them as DIR/PLACE/page.html")
                .value());
    const auto job = job::parse_job(*text, words.shown);
    if (!job) return report(job.error());
    const job::WatchedFiles watched(*job);
    const auto read = ground::read_job_hull(*job);
    if (!read) return report(job::in_file(*job, read.error()));
    const page::Shape hull = page::shape_of(read->hull);
    const auto plan = plan_repair(read->job, read->hull);
    if (const auto same = watched.unchanged(); !same)
        return report(job::in_file(*job, same.error()));
    if (!plan) {
        report(plan.error());
        return write(words, page::refused_page(read->job, hull, plan.error()),
                     "the hull, with what the plan was refused for");
    }
    report(plan->warnings);
    return write(words, page::plan_page(*plan, hull), "open it in a browser");
}

int run(const LookWords& words) {
    if (words.page == "-")
        return report(
            bad_input("-o", "\"-\": a page is a file; name it, such as page.html").value());
    if (!ends_in(words.page, {".html", ".htm"}))
        return report(bad_input("-o", '"' + words.page + "\": a page is HTML: name it .html").value());
    // Told before the work, not after it.
    if (const auto free = files::check_page(words.page); !free) return report(free.error());
    if (ends_in(words.shown, {".toml"})) {
        for (const auto& [option, given] :
             {std::pair("--unit", !words.unit.empty()), std::pair("--scan", !words.scan.empty())})
            if (given)
                return report(
                    bad_input(option, "goes with a model; a job file says it itself").value());
        return look_at_job(words);
    }
    if (!words.scan.empty() || ends_in(words.shown, {".xyz", ".pts", ".csv"}))
        return look_at_scan(words);
    return look_at_model(words);
}

}  // namespace

void add_look(CLI::App& app, int& status) {
    const auto words = std::make_shared<LookWords>();
    CLI::App* command = app.add_subcommand(
        "look", "a page for a browser: points picked on a model, or a plan layer by layer");
    command
        ->add_option("MODEL-or-JOB", words->shown,
                     "a model or a scan, as tearline hull takes it; or a job file (.toml), which "
                     "is planned")
        ->required();
    command
        ->add_option("-o", words->page,
                     "page to write, one file that needs no network: not there yet, or an earlier "
                     "page that nobody has edited")
        ->required()
        ->type_name("PAGE");
    command
        ->add_option("--unit", words->unit,
                     "of a file that does not say its own: .stl .obj .ply .xyz .pts .csv")
        ->check(CLI::IsMember({"mm", "cm", "m", "in", "ft"}));
    command
        ->add_option("--scan", words->scan,
                     "the model is a scan, by light (laser, structured light), photo, or depth (a "
                     "phone's sensor): shown as it is, with tapes and creases to pick")
        ->check(CLI::IsMember({"light", "photo", "depth"}));
    add_read_limits(*command);
    command->callback([words, &status] { status = run(*words); });
}

}  // namespace tearline::cli

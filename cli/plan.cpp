#include <unistd.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Error.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <initializer_list>
#include <memory>
#include <string>
#include <vector>

#include "cli/commands.h"
#include "cli/plan_boat.h"
#include "cli/vary.h"
#include "core/base/numbers.h"
#include "core/base/sha256.h"
#include "core/files/replace_folder.h"
#include "core/files/write_plan.h"
#include "core/formats/plan_json.h"
#include "core/ground/job_hull.h"
#include "core/job/boat_job.h"
#include "core/job/in_file.h"
#include "core/job/most_plies.h"
#include "core/job/read_job.h"
#include "core/paper/paper.h"
#include "core/paper/print_layout.h"
#include "core/plan/plan_repair.h"

namespace tearline::cli {

namespace {

struct PlanWords {
    std::string job;
    std::string folder;
    std::vector<std::string> formats{"svg", "dxf"};
    bool json = false;
    bool mirror = false, less_paper = false;
    std::string print_scale = "1";
    std::vector<std::string> cutter_files{"one", "rolls"};
    std::string chord_error = "0";
    std::vector<std::string> papers;
    std::vector<int> pens{1, 2, 3};
    bool pens_given = false;
    bool arcs = false;
    bool drill = false;
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

files::OutputOptions output_options(const PlanWords& words) {
    files::OutputOptions options;
    options.formats.clear();
    for (const std::string& name : words.formats)
        options.formats.push_back(files::format_named(name).value());
    // An option of one format asks for that format: it must not vanish without a file.
    const auto ask_for = [&](files::Format format) {
        auto& formats = options.formats;
        if (std::find(formats.begin(), formats.end(), format) == formats.end())
            formats.push_back(format);
    };
    if (!words.papers.empty() || words.less_paper) ask_for(files::Format::pdf);
    if (words.pens_given) ask_for(files::Format::hpgl);
    options.mirror = words.mirror;
    options.cutter_files.clear();
    for (const std::string& name : words.cutter_files)
        options.cutter_files.push_back(files::cutter_files_named(name).value());
    // By their full names: "914" and "roll 914 mm" are one paper.
    for (const std::string& paper : words.papers)
        options.papers.push_back(paper::read_paper(paper).value().name);
    options.cutter.chord_error = read_number(words.chord_error).value();
    options.cutter.arcs = words.arcs;
    options.cutter.drill = words.drill;
    options.pens = {words.pens[0], words.pens[1], words.pens[2]};
    options.less_paper = words.less_paper;
    options.print_scale = paper::read_print_scale(words.print_scale).value();
    return options;
}

std::string check_print_scale(const std::string& text) {
    const auto scale = paper::read_print_scale(text);
    if (scale && *scale >= paper::least_print_scale && *scale <= paper::most_print_scale) return {};
    return "'" + text +
           "' is no print scale: it is the length of a printed bar by what it measures, as "
           "100/99.4, between 0.9 and 1.1";
}

std::string check_chord_error(const std::string& text) {
    const auto error = read_number(text);
    if (error && *error >= 0.0 && *error <= 1.0) return {};
    return "'" + text +
           "' is no chord error: mm that a straight step may leave the curve by, from 0 (the "
           "points "
           "of the plan, 0.005 mm) to 1";
}

std::string check_paper(const std::string& text) {
    const auto paper = paper::read_paper(text);
    return paper ? std::string() : paper.error().message();
}

/// Options for files that machines read.
void add_cutter_options(CLI::App& command, PlanWords& words) {
    command
        .add_option("--cutter-files", words.cutter_files,
                    "dxf, dxf2000, hpgl: one file of all pieces, nested rolls, a file a piece")
        ->delimiter(',')
        ->check(CLI::IsMember({"one", "rolls", "pieces"}))
        ->type_name("one,rolls,pieces");
    command
        .add_option("--chord-error", words.chord_error,
                    "mm that a straight step of a cutter file may leave the curve by; 0: as the "
                    "plan, 0.005")
        ->check(CLI::Validator(check_chord_error, "MM"))
        ->type_name("");
    command.add_flag("--arcs", words.arcs, "dxf, dxf2000: round runs of points as arcs");
    command.add_flag("--drill", words.drill, "dxf, dxf2000: the datum is a hole to drill");
    command
        .add_option(
            "--pens", words.pens,
            "hpgl (asks for it by itself): pens that cut, draw and write, in this order; 0 leaves "
            "it out")
        ->delimiter(',')
        ->expected(3)
        ->check(CLI::Range(0, 8))
        ->type_name("CUT,DRAW,WRITE");
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

/// Options that would be taken without a word and change no file.
void refuse_useless(const CLI::App& command, const PlanWords& words) {
    if (words.folder.empty() && !words.json)
        throw CLI::RequiredError("-o DIR (or --json for the plan on stdout alone)");
    const auto wants = [&](std::initializer_list<const char*> formats) {
        return std::any_of(formats.begin(), formats.end(), [&](const std::string& format) {
            return std::find(words.formats.begin(), words.formats.end(), format) !=
                   words.formats.end();
        });
    };
    const auto refuse = [&](const char* option, const std::string& formats) {
        if (command.count(option) > 0)
            throw CLI::ValidationError(option, "does nothing without a file of " + formats +
                                                   ": add one to --format, or leave it out");
    };
    const bool dxf = wants({"dxf", "dxf2000"});
    const bool hpgl = wants({"hpgl"}) || command.count("--pens") > 0;
    for (const char* option : {"--arcs", "--drill"})
        if (!dxf) refuse(option, "dxf or dxf2000");
    for (const char* option : {"--chord-error", "--cutter-files"})
        if (!dxf && !hpgl) refuse(option, "dxf, dxf2000 or hpgl");
}

/// The plan; for a page the whole hull is kept beside it.
Result<Plan> planned(const job::Job& job, files::OutputOptions& options, const Progress& progress) {
    const auto& formats = options.formats;
    if (std::find(formats.begin(), formats.end(), files::Format::page) == formats.end())
        return plan_repair(job, progress);
    auto read = ground::read_job_hull(job);
    if (!read) return tl::unexpected(job::in_file(job, read.error()));
    options.hull = page::Shape{read->hull.vertices, read->hull.triangles};
    return plan_repair(read->job, read->hull, progress);
}

int run_plan(const PlanWords& words) {
    const auto text = job::read_job_text(words.job);
    if (!text) return report(text.error());
    // Told before the work, not after it.
    const bool writes = !words.folder.empty();
    const auto check = [&]() -> Result<void> {
        return writes ? files::check_folder(words.folder) : Result<void>();
    };
    if (job::is_boat(*text)) {
        if (const auto free = check(); !free) return report(free.error());
        return run_plan_boat({words.job, words.folder, words.json, words.after_ply}, *text,
                             output_options(words));
    }
    auto job = job::parse_job(*text, words.job);
    if (!job) return report(job.error());
    if (const auto free = check(); !free) return report(free.error());
    job->after_ply = words.after_ply;
    files::OutputOptions options = output_options(words);
    const Progress progress = progress_line();
    const auto plan = planned(*job, options, progress);
    if (progress) progress("", 1.0);
    if (!plan) return report(plan.error());
    report(plan->warnings);
    if (writes) {
        const auto told = files::write_plan(*plan, words.folder, options, sha256_hex(*text));
        if (!told) return report(told.error());
        if (!told->empty()) std::fprintf(stderr, "tearline: %s\n", told->c_str());
    }
    if (words.json) {
        const std::string json = formats::plan_json(*plan);
        if (std::fwrite(json.data(), 1, json.size(), stdout) != json.size() ||
            std::fflush(stdout) != 0)
            return report(output_failed("stdout", "the plan could not be written").value());
    }
    if (!writes) return exit_done;
    std::size_t pieces = 0;
    for (const templates::LaidPly& ply : plan->plies) pieces += ply.pieces.size();
    std::fprintf(stderr, "%zu %s, %zu %s: %s\n", plan->plies.size(),
                 plan->plies.size() == 1 ? "ply" : "plies", pieces,
                 pieces == 1 ? "template" : "templates",
                 (std::filesystem::path(words.folder) / "overview.svg").c_str());
    return exit_done;
}

}  // namespace

void add_plan(CLI::App& app, int& status) {
    auto words = std::make_shared<PlanWords>();
    CLI::App* command =
        app.add_subcommand("plan", "hull and job file to templates, quantities and files");
    command->add_option("JOB", words->job, "job file (TOML)")->required();
    command
        ->add_option("-o", words->folder,
                     "folder to write: absent, empty, or an earlier plan's; --json does without")
        ->type_name("DIR");
    command
        ->add_option("--format", words->formats,
                     "svg, dxf, dxf2000, hpgl, pdf, page (the plan in 3D, for a browser)")
        ->delimiter(',')
        ->check(CLI::IsMember({"svg", "dxf", "dxf2000", "hpgl", "pdf", "page"}))
        ->type_name("LIST");
    command
        ->add_option("--after", words->after_ply,
                     "plan what is left on the cured work after this ply, by soundings on it")
        ->check(CLI::Range(1, static_cast<int>(job::most_plies)))
        ->type_name("PLY");
    command->add_flag("--json", words->json, "put the plan on stdout, and nothing else there");
    command->add_flag("--mirror", words->mirror, "templates turned over, and marked so");
    command
        ->add_option(
            "--print-scale", words->print_scale,
            "for a printer that prints short: the length of a printed bar by what it measures, "
            "as 100/99.4 or, on rolls and large sheets, 150/149.1")
        ->check(CLI::Validator(check_print_scale, "S"))
        ->type_name("");
    command
        ->add_option(
            "--paper", words->papers,
            "pdf on these papers too (asks for pdf by itself): A4, A3, Letter, Tabloid, \"roll "
            "914\", \"roll 36 in\"")
        ->delimiter(',')
        ->check(CLI::Validator(check_paper, "PAPER"))
        ->type_name("LIST");
    command->add_flag("--less-paper", words->less_paper,
                      "pdf (asks for it by itself): one ring sheet for all mat plies where right");
    add_read_limits(*command);
    add_cutter_options(*command, *words);
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
            status = run_vary({words->job, words->folder, words->variations, words->after_ply});
            return;
        }
        refuse_useless(*command, *words);
        words->pens_given = command->count("--pens") > 0;
        status = run_plan(*words);
    });
}

}  // namespace tearline::cli

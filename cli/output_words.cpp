#include "cli/output_words.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Error.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <initializer_list>

#include "core/base/numbers.h"
#include "core/base/printable.h"
#include "core/formats/plan_json.h"
#include "core/paper/paper.h"
#include "core/paper/print_layout.h"

namespace tearline::cli {

namespace {

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
           "points of the plan, 0.005 mm) to 1";
}

std::string check_paper(const std::string& text) {
    const auto paper = paper::read_paper(text);
    return paper ? std::string() : paper.error().message();
}

void add_print_options(CLI::App& command, OutputWords& words) {
    command
        .add_option(
            "--print-scale", words.print_scale,
            "for a printer that prints short: the length of a printed bar by what it measures, "
            "as 100/99.4 or, on rolls and large sheets, 150/149.1")
        ->check(CLI::Validator(check_print_scale, "S"))
        ->type_name("");
    command
        .add_option("--paper", words.papers,
                    "pdf on these papers too (asks for pdf by itself): A4, A3, Letter, Tabloid, "
                    "\"roll 914\", \"roll 36 in\"")
        ->delimiter(',')
        ->check(CLI::Validator(check_paper, "PAPER"))
        ->type_name("LIST");
}

/// Options for files that machines read.
void add_cutter_options(CLI::App& command, OutputWords& words) {
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

bool has(const std::vector<std::string>& formats, const std::string& format) {
    return std::find(formats.begin(), formats.end(), format) != formats.end();
}

}  // namespace

void add_output_options(CLI::App& command, OutputWords& words) {
    command
        .add_option("-o", words.folder,
                    "folder to write: absent, empty, or an earlier plan's; --json does without")
        ->type_name("DIR");
    command
        .add_option("--format", words.formats,
                    "svg, dxf, dxf2000, hpgl, pdf, page (the plan in 3D, for a browser)")
        ->delimiter(',')
        ->check(CLI::IsMember({"svg", "dxf", "dxf2000", "hpgl", "pdf", "page"}))
        ->type_name("LIST");
    command.add_flag("--json", words.json, "put the plan on stdout, and nothing else there");
    command.add_flag("--mirror", words.mirror, "templates turned over, and marked so");
    add_print_options(command, words);
    add_cutter_options(command, words);
}

void refuse_useless(const CLI::App& command, const OutputWords& words) {
    if (words.folder.empty() && !words.json)
        throw CLI::RequiredError("-o DIR (or --json for the plan on stdout alone)");
    const auto refuse = [&](std::initializer_list<const char*> options, const char* formats) {
        for (const char* option : options)
            if (command.count(option) > 0)
                throw CLI::ValidationError(option, std::string("does nothing without a file of ") +
                                                       formats +
                                                       ": add one to --format, or leave it out");
    };
    const bool dxf = has(words.formats, "dxf") || has(words.formats, "dxf2000");
    const bool hpgl = has(words.formats, "hpgl") || !words.pens.empty();
    if (!dxf) refuse({"--arcs", "--drill"}, "dxf or dxf2000");
    if (!dxf && !hpgl) refuse({"--chord-error", "--cutter-files"}, "dxf, dxf2000 or hpgl");
}

files::OutputOptions output_options(const OutputWords& words) {
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
    if (!words.pens.empty()) ask_for(files::Format::hpgl);
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
    if (!words.pens.empty()) options.pens = {words.pens[0], words.pens[1], words.pens[2]};
    options.less_paper = words.less_paper;
    options.print_scale = paper::read_print_scale(words.print_scale).value();
    return options;
}

Result<void> put_on_stdout(const std::string& json) {
    if (std::fwrite(json.data(), 1, json.size(), stdout) == json.size() && std::fflush(stdout) == 0)
        return {};
    return output_failed("stdout", "the plan could not be written");
}

Result<void> hand_over(const Plan& plan, const OutputWords& words,
                       const files::OutputOptions& options, const std::string& job_sha256) {
    if (!words.folder.empty()) {
        const auto told = files::write_plan(plan, words.folder, options, job_sha256);
        if (!told) return tl::unexpected(told.error());
        if (!told->empty()) std::fprintf(stderr, "tearline: %s\n", printable(*told).c_str());
    }
    return words.json ? put_on_stdout(formats::plan_json(plan)) : Result<void>();
}

void tell_templates(const Plan& plan, const OutputWords& words, const std::string& counted) {
    if (words.folder.empty()) return;
    std::size_t pieces = 0;
    for (const templates::LaidPly& ply : plan.plies) pieces += ply.pieces.size();
    std::fprintf(
        stderr, "%s%zu %s: %s\n", counted.c_str(), pieces, pieces == 1 ? "template" : "templates",
        printable((std::filesystem::path(words.folder) / "overview.svg").string()).c_str());
}

}  // namespace tearline::cli

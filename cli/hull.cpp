#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <cstdio>
#include <memory>
#include <optional>
#include <string>

#include "cli/commands.h"
#include "core/hull/hull_report.h"
#include "core/hull/read_hull.h"

namespace tearline::cli {

namespace {

struct HullWords {
    std::string file;
    std::string unit;
    std::string show = "mm";
};

int run(const HullWords& words) {
    const std::optional<std::string> unit =
        words.unit.empty() ? std::nullopt : std::optional(words.unit);
    const auto hull = hull::inspect_hull(words.file, unit, hull::UnitFrom::command_line);
    if (!hull) return report(hull.error());
    std::fputs(
        hull::hull_report_text(*hull, words.show == "in" ? Units::us : Units::metric).c_str(),
        stderr);
    report(hull->warnings);
    return exit_done;
}

}  // namespace

void add_hull(CLI::App& app, int& status) {
    const auto words = std::make_shared<HullWords>();
    CLI::App* command =
        app.add_subcommand("hull", "say what a model holds: faces, size, openings, radii, flaws");
    command->add_option("FILE", words->file, "the model: .step .iges .brep .stl .obj .ply")
        ->required();
    command->add_option("--unit", words->unit, "of an .stl, .obj or .ply file")
        ->check(CLI::IsMember({"mm", "cm", "m", "in", "ft"}));
    command
        ->add_option("--show", words->show,
                     "what lengths and areas are told in: mm, or in for inches")
        ->check(CLI::IsMember({"mm", "in"}));
    add_read_limits(*command);
    command->callback([words, &status] { status = run(*words); });
}

}  // namespace tearline::cli

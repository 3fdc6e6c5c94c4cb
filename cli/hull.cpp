#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "cli/commands.h"
#include "core/hull/hull_report.h"
#include "core/hull/read_hull.h"
#include "core/scan/survey.h"

namespace tearline::cli {

namespace {

struct HullWords {
    std::string file;
    std::string unit;
    std::string show = "mm";
    std::string scan;     ///< "light", "photo", "depth"; "" for a model that is exact
    std::string picture;  ///< to write; "" for none

    [[nodiscard]] Units units() const { return show == "in" ? Units::us : Units::metric; }
};

job::ScanKind kind_of(const std::string& word) {
    for (const job::ScanKind kind :
         {job::ScanKind::light, job::ScanKind::photo, job::ScanKind::depth})
        if (scan::kind_word(kind) == word) return kind;
    return job::ScanKind::light;
}

bool holds_bare_points(const std::string& file) {
    const std::string ending = std::filesystem::path(file).extension().string();
    return ending == ".xyz" || ending == ".pts" || ending == ".csv";
}

int tell_scan(const HullWords& words) {
    if (words.unit.empty())
        return report(bad_input("--unit",
                                "required: scans name no unit; give --unit mm, or cm, m, "
                                "in, ft")
                          .value());
    const auto scan = scan::read_scan(words.file, words.unit);
    if (!scan) return report(scan.error());
    const auto told = scan::survey(*scan, kind_of(words.scan));
    if (!told) return report(told.error());
    std::fputs(scan::survey_text(*told, *scan, kind_of(words.scan), words.units()).c_str(), stderr);
    if (words.scan.empty())
        std::fputs(
            "kind            not said, \"light\" is taken: say --scan light (laser, structured "
            "light), photo, or depth (a phone's sensor), as [hull.scan] kind will\n",
            stderr);
    if (words.picture.empty()) return exit_done;
    return write_new_file(words.picture, scan::survey_picture(*told),
                          "how far the scan lies off its fair surface");
}

int run(const HullWords& words) {
    if (!words.scan.empty() || holds_bare_points(words.file)) return tell_scan(words);
    if (!words.picture.empty())
        return report(bad_input("--picture", "goes with --scan light, photo or depth").value());
    const std::optional<std::string> unit =
        words.unit.empty() ? std::nullopt : std::optional(words.unit);
    const auto hull = hull::inspect_hull(words.file, unit, hull::UnitFrom::command_line);
    if (!hull) return report(hull.error());
    std::fputs(hull::hull_report_text(*hull, words.units()).c_str(), stderr);
    report(hull->warnings);
    return exit_done;
}

}  // namespace

void add_hull(CLI::App& app, int& status) {
    const auto words = std::make_shared<HullWords>();
    CLI::App* command =
        app.add_subcommand("hull", "say what a model holds: faces, size, openings, radii, flaws");
    command
        ->add_option(
            "FILE", words->file,
            "the model: .step .iges .brep .stl .obj .ply, or a scan: .ply .stl .obj .xyz .pts .csv")
        ->required();
    command
        ->add_option("--unit", words->unit,
                     "of a file that does not say its own: .stl .obj .ply .xyz .pts .csv")
        ->check(CLI::IsMember({"mm", "cm", "m", "in", "ft"}));
    command
        ->add_option("--show", words->show,
                     "what lengths and areas are told in: mm, or in for inches")
        ->check(CLI::IsMember({"mm", "in"}));
    add_read_limits(*command);
    command
        ->add_option("--scan", words->scan,
                     "the model is a scan, by light (laser, structured light), photo, or depth (a "
                     "phone's sensor), as [hull.scan] kind will say: its noise, holes and fairness")
        ->check(CLI::IsMember({"light", "photo", "depth"}));
    command->add_option(
        "--picture", words->picture,
        "with --scan: how far the scan lies off its fair surface, an .svg to write");
    command->callback([words, &status] { status = run(*words); });
}

}  // namespace tearline::cli

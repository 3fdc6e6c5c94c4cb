#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Error.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "cli/commands.h"
#include "core/base/printable.h"
#include "core/job/measuring_sheet.h"
#include "core/job/new_job_file.h"

namespace tearline::cli {

namespace {

/// How the hull is measured, by the sheet's name on the command line.
std::optional<job::MeasuredBy> measured_by(const std::string& name) {
    if (name.empty() || name == "batten") return job::MeasuredBy::batten;
    if (name == "grid") return job::MeasuredBy::grid;
    if (name == "corner") return job::MeasuredBy::corner;
    if (name == "sections") return job::MeasuredBy::sections;
    return std::nullopt;
}

}  // namespace

void add_new(CLI::App& app, int& status) {
    struct Words {
        std::string file, sheet, units = "mm";
    };
    auto words = std::make_shared<Words>();
    CLI::App* command = app.add_subcommand("new", "write a commented job file to start from");
    command->add_option("FILE", words->file,
                        "file to write, not there yet; \"-\": stdout; default job.toml or "
                        "measuring-sheet.html");
    CLI::Option* sheet =
        command
            ->add_option("--measuring-sheet", words->sheet,
                         "a page to print and fill in at a hull without a model: measured by "
                         "batten (default), by grid (offsets from a string net), a corner or "
                         "fillet by its radius, or by sections (a table of offsets)")
            ->expected(0, 1)
            ->type_name("[batten|grid|corner|sections]");
    CLI::Option* units =
        command
            ->add_option("--units", words->units,
                         "of the figures on the measuring sheet: mm, or in for inches")
            ->check(CLI::IsMember({"mm", "in"}));
    units->needs(sheet);
    command->callback([words, sheet, &status] {
        if (sheet->count() == 0) {
            status =
                write_new_file(words->file.empty() ? "job.toml" : words->file, job::new_job_file(),
                               "put in the hull, the damage and its depth, then: tearline plan");
            return;
        }
        const std::optional<job::MeasuredBy> by = measured_by(words->sheet);
        if (!by && (!words->file.empty() ||
                    (words->sheet != "-" && words->sheet.find('.') == std::string::npos)))
            throw CLI::ValidationError(
                "--measuring-sheet",
                "there is none called " + words->sheet + "; give batten, grid, corner or sections");
        // The sheet's name may be left out before that of the file.
        const std::string file = by ? words->file : words->sheet;
        const std::string ending = std::filesystem::path(file).extension().string();
        if (!file.empty() && file != "-" && ending != ".html" && ending != ".htm")
            throw CLI::ValidationError("FILE", printable(file) +
                                                   ": the sheet is a page for a browser, which "
                                                   "prints it: give a name that ends in .html");
        status =
            write_new_file(file.empty() ? "measuring-sheet.html" : file,
                           job::measuring_sheet(by.value_or(job::MeasuredBy::batten),
                                                words->units == "in" ? Units::us : Units::metric),
                           "print it, fill it in at the hull, type it into a job file");
    });
}

}  // namespace tearline::cli

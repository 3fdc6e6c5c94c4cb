#include "cli/print/print_words.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>

#include "core/base/version.h"

namespace tearline::cli {

void add_print_words(CLI::App& app, PrintWords& words) {
    app.description("Prints the templates of a plan at full size.");
    app.set_version_flag(
        "--version", "tearline-print " + std::string(version()) + "\n" + std::string(built_with()));
    app.add_option("DIR", words.folder,
                   "folder that `tearline plan` wrote, or a job file, which is planned first")
        ->required();
    app.add_option("--pdf", words.pdf, "write this PDF instead of opening a window");
    app.add_option("--paper", words.paper,
                   "A4, A3, Letter, Tabloid, \"roll 914\", \"roll 36 in\"; Letter where the job is "
                   "shown in US units, else A4");
    app.add_option("--print-scale", words.print_scale,
                   "the length of a printed bar by what it measures, as 100/99.4 or, on rolls and "
                   "large sheets, 150/149.1");
    app.add_option("--only", words.only, "ids of what to print, commas between")->delimiter(',');
    app.add_flag("--mirror", words.mirror, "templates turned over, and marked so");
    app.add_flag("--less-paper", words.less_paper, "one ring sheet for all mat plies where right");
    app.add_flag("--tables", words.tables,
                 "with polar tables: templates to draw by tape and protractor");
    app.add_flag("--sheet", words.sheet, "the job sheet instead of the templates; with --pdf");
}

}  // namespace tearline::cli

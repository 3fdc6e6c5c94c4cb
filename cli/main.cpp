#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <exception>

#include "cli/commands.h"
#include "core/base/version.h"

int main(int argc, char** argv) {
    using namespace tearline::cli;
    try {
        int status = exit_done;
        CLI::App app("Plies, templates and resin for the repair of glass-fibre hulls.", "tearline");
        app.require_subcommand(1);
        app.set_version_flag("--version", "tearline " + std::string(tearline::version()));
        add_commands(app, status);
        try {
            app.parse(argc, argv);
        } catch (const CLI::ParseError& error) {
            return app.exit(error) == 0 ? exit_done : exit_wrong_command_line;
        }
        return status;
    } catch (const std::exception& error) {
        return report_bug(error.what());
    } catch (...) {
        return report_bug("a failure without words");
    }
}

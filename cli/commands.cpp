#include "cli/commands.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <cstdio>
#include <string>

#include "core/base/printable.h"
#include "core/base/version.h"
#include "core/hull/read_limits.h"
#include "core/warnings/warning.h"

namespace tearline::cli {

namespace {
void say(const std::string& line) {
    std::fprintf(stderr, "%s\n", printable(line, true).c_str());
}
}  // namespace

void add_commands(CLI::App& app, int& status) {
    app.description("Plies, templates and resin for the repair of glass-fibre hulls.");
    app.require_subcommand(1);
    app.set_version_flag("--version",
                         "tearline " + std::string(version()) + "\n" + std::string(built_with()));
    add_new(app, status);
    add_hull(app, status);
    add_plan(app, status);
    add_look(app, status);
    add_flatten(app, status);
    add_batch(app, status);
    add_mix(app, status);
    add_print(app, status);
    add_serve(app, status);
    // Last, or every command would show it too.
    app.footer(
        "Exit status: 0 done, warnings and all; 1 a fault in the program; 2 a wrong command line; "
        "3 a job file or model that cannot be used; 4 no template that one could cut by; 5 the "
        "output could not be written.");
}

void add_read_limits(CLI::App& command) {
    hull::ReadLimits& limits = hull::read_limits();
    command
        .add_option("--read-seconds", limits.seconds,
                    "processor time that reading a STEP, IGES or BREP file may take; 20 s unless "
                    "said")
        ->check(CLI::Range(1.0, 1e5))
        ->type_name("S");
    command
        .add_option("--read-memory", limits.gigabytes,
                    "memory that reading one may take; 1 GB unless said")
        ->check(CLI::Range(0.05, 1e4))
        ->type_name("GB");
}

int report(const Error& error) {
    say("tearline: " + error.message());
    switch (error.kind) {
        case ErrorKind::bad_input:
            return exit_bad_input;
        case ErrorKind::no_safe_answer:
            return exit_no_safe_answer;
        case ErrorKind::output_failed:
            return exit_output_failed;
    }
    return exit_bug;
}

int report_bug(std::string_view what) {
    say("tearline: a fault in this program, not in your job: " + std::string(what) +
        "\nNothing was written. Please report it with the job file and the model.");
    return exit_bug;
}

int report_no_memory() {
    return report(no_safe_answer("not enough memory: make the damage smaller, or export only the "
                                 "part of the model about it, or a coarser one")
                      .value());
}

void report(const Warnings& warnings) {
    for (const Warning& warning : warnings) {
        std::string where;
        if (warning.piece)
            where = " (piece " + *warning.piece + ")";
        else if (warning.ply.value_or(0) > 0)
            where = " (ply " + std::to_string(*warning.ply) + ")";
        // The rank first: what must be decided stands out in a long list.
        say("warning (" + std::string(rank_key(warning.rank())) + "): " + warning.words().told +
            where + " [" + std::string(warning.code()) + "]");
    }
}

}  // namespace tearline::cli

#pragma once
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/warnings/warning.h"

namespace CLI {
class App;
}

/// The commands of the program: each reads its words, calls the core and says how it went.
/// Whatever a person should read goes to stderr; stdout is for what was asked for by `--json`.
namespace tearline::cli {

inline constexpr int exit_done = 0;
inline constexpr int exit_bug = 1;
inline constexpr int exit_wrong_command_line = 2;
inline constexpr int exit_bad_input = 3;
inline constexpr int exit_no_safe_answer = 4;
inline constexpr int exit_output_failed = 5;

/// Adds description, version and every command to the program; each command sets `status` when it
/// has run.
void add_commands(CLI::App& app, int& status);

void add_new(CLI::App& app, int& status);
void add_hull(CLI::App& app, int& status);
void add_plan(CLI::App& app, int& status);
void add_look(CLI::App& app, int& status);
void add_flatten(CLI::App& app, int& status);
void add_mix(CLI::App& app, int& status);
void add_batch(CLI::App& app, int& status);
void add_print(CLI::App& app, int& status);
void add_serve(CLI::App& app, int& status);

/// Options of every command that reads a model: what reading it may take.
void add_read_limits(CLI::App& command);

/// Writes a file that is not there yet and says what comes next; "-": to stdout, nothing said.
/// @return the exit status
int write_new_file(const std::string& name, std::string_view text, const char* then);

/// Says what went wrong and gives the exit status for it.
int report(const Error& error);

/// Says that the program itself is at fault.
int report_bug(std::string_view what);

/// Says that there was too little memory, and what to make smaller.
int report_no_memory();

/// One line for each warning.
void report(const Warnings& warnings);

}  // namespace tearline::cli

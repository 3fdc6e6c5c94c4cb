#pragma once
#include <string>
#include <vector>

#include "core/files/write_plan.h"
#include "core/plan/plan.h"

namespace CLI {
class App;
}

namespace tearline::cli {

/// What a command that writes templates is asked of its files.
struct OutputWords {
    std::string folder;  ///< empty: the plan on stdout alone
    bool json = false;
    std::vector<std::string> formats{"svg", "dxf"}, papers;
    std::vector<std::string> cutter_files{"one", "rolls"};
    std::vector<int> pens;  ///< that cut, draw and write; none: the format's own
    std::string print_scale = "1", chord_error = "0";
    bool mirror = false, less_paper = false, arcs = false, drill = false;
};

/// The options that every such command has.
void add_output_options(CLI::App& command, OutputWords& words);

/// Refuses options that would be taken without a word and change no file (CLI::ValidationError).
void refuse_useless(const CLI::App& command, const OutputWords& words);

files::OutputOptions output_options(const OutputWords& words);

/// Puts the JSON of `--json` on stdout.
[[nodiscard]] Result<void> put_on_stdout(const std::string& json);

/// Writes a plan's files and puts it on stdout, as far as each was asked for.
///
/// @param job_sha256  of the job file's bytes, for the manifest; "" where there are none
[[nodiscard]] Result<void> hand_over(const Plan& plan, const OutputWords& words,
                                     const files::OutputOptions& options,
                                     const std::string& job_sha256 = {});

/// "3 templates: DIR/overview.svg", after what else is counted; nothing without a folder.
void tell_templates(const Plan& plan, const OutputWords& words, const std::string& counted = {});

}  // namespace tearline::cli

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <memory>
#include <string>
#include <vector>

#include "cli/commands.h"
#include "core/output/print_program.h"

namespace tearline::cli {

void add_print(CLI::App& app, int& status) {
    auto folder = std::make_shared<std::string>();
    CLI::App* command = app.add_subcommand(
        "print", "preview and print the templates at full size; further options: print DIR --help");
    command->add_option("DIR", *folder, "folder that `tearline plan` wrote")->required();
    // What the printing program takes is its own affair: --pdf FILE, --paper, --print-scale, ...
    command->allow_extras();
    command->set_help_flag();
    command->callback([folder, command, &status] {
        std::vector<std::string> words{*folder};
        for (const std::string& word : command->remaining()) words.push_back(word);
        status = report(output::become_print_program(words));
    });
}

}  // namespace tearline::cli

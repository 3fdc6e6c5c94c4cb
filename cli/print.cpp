#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <memory>
#include <string>
#include <vector>

#include "cli/commands.h"
#include "core/files/print_program.h"

namespace tearline::cli {

void add_print(CLI::App& app, int& status) {
    auto folder = std::make_shared<std::string>();
    auto help = std::make_shared<bool>(false);
    CLI::App* command = app.add_subcommand(
        "print", "preview and print the templates at full size; its options: print --help");
    command->add_option("DIR", *folder, "folder that `tearline plan` wrote");
    // What the printing program takes is its own affair: --pdf FILE, --paper, --print-scale, ...
    command->allow_extras();
    command->set_help_flag();
    command->add_flag("-h,--help", *help, "what the printing program can be asked");
    command->callback([folder, help, command, &status] {
        if (folder->empty() && !*help) throw CLI::RequiredError("DIR");
        std::vector<std::string> words{*help ? "--help" : *folder};
        for (const std::string& word : command->remaining()) words.push_back(word);
        status = report(files::become_print_program(words));
    });
}

}  // namespace tearline::cli

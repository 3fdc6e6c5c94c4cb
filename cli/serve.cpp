#include "core/serve/serve.h"

#include <sys/prctl.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <csignal>
#include <iostream>
#include <memory>

#include "cli/commands.h"

namespace tearline::cli {

void add_serve(CLI::App& app, int& status) {
    CLI::App* command = app.add_subcommand("serve", "the engine for the CAD plugin");
    auto stdio = std::make_shared<bool>(false);
    command->add_flag("--stdio", *stdio, "Speak over standard input and output")->required();
    add_read_limits(*command);
    command->callback([&status] {
        // The plugin's program may die without closing the pipe: then so do we.
        prctl(PR_SET_PDEATHSIG, SIGTERM);
        // Whoever listened may be gone: then what is written fails, and it ends as told.
        std::signal(SIGPIPE, SIG_IGN);
        std::ios::sync_with_stdio(false);
        status = serve::serve(std::cin, std::cout);
    });
}

}  // namespace tearline::cli

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <csignal>
#include <cstdio>
#include <exception>
#include <new>
#include <string>
#include <string_view>
#include <vector>

#include "cli/commands.h"
#include "core/base/large_pages.h"
#include "core/batch/worker.h"
#include "core/job/nearest_name.h"

namespace {

bool is_command(const CLI::App& app, std::string_view word) {
    const auto commands = app.get_subcommands(nullptr);
    return std::any_of(commands.begin(), commands.end(),
                       [&](const CLI::App* command) { return command->get_name() == word; });
}

int no_command(const CLI::App& app, std::string_view word) {
    std::vector<std::string> names;
    for (const CLI::App* command : app.get_subcommands(nullptr))
        names.push_back(command->get_name());
    const std::vector<std::string_view> known(names.begin(), names.end());
    std::string listed;
    for (const std::string& name : names) listed += (listed.empty() ? "" : ", ") + name;
    std::fprintf(stderr, "tearline: '%.*s' is no command; the nearest is '%s'. Commands: %s\n",
                 static_cast<int>(word.size()), word.data(),
                 tearline::job::nearest_name(word, known).c_str(), listed.c_str());
    return tearline::cli::exit_wrong_command_line;
}

}  // namespace

int main(int argc, char** argv) {
    using namespace tearline::cli;
    // Ignored by who started us, a child's end could not be waited for.
    std::signal(SIGCHLD, SIG_DFL);
    // A file over the limit then fails to be written, as on a full disk.
    std::signal(SIGXFSZ, SIG_IGN);
    tearline::use_large_pages();
    try {
        if (const auto worked = tearline::batch::work_if_asked(argc, argv)) return *worked;
        int status = exit_done;
        CLI::App app("", "tearline");
        add_commands(app, status);
        try {
            app.parse(argc, argv);
        } catch (const CLI::ParseError& error) {
            if (argc > 1 && argv[1][0] != '-' && !is_command(app, argv[1]))
                return no_command(app, argv[1]);
            return app.exit(error) == 0 ? exit_done : exit_wrong_command_line;
        }
        return status;
    } catch (const std::bad_alloc&) {
        return report_no_memory();
    } catch (const std::exception& error) {
        return report_bug(error.what());
    } catch (...) {
        return report_bug("a failure without words");
    }
}

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>
#include <string>

#include "cli/commands.h"
#include "core/job/new_job_file.h"

namespace tearline::cli {

namespace {

int run_new(const std::string& name) {
    // "x": a job file that somebody has filled in is never written over.
    std::FILE* file = std::fopen(name.c_str(), "wbx");
    if (file == nullptr)
        return report(Error{ErrorKind::output_failed,
                            errno == EEXIST
                                ? name + ": exists already; name another file"
                                : name + ": cannot be written: " + std::strerror(errno)});
    const std::string_view text = job::new_job_file();
    const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
    if (!(std::fclose(file) == 0 && written)) {
        std::remove(name.c_str());
        return report(Error{ErrorKind::output_failed, name + ": could not be written whole"});
    }
    std::fprintf(stderr, "%s: put in the hull, the damage and its depth, then: tearline plan\n",
                 name.c_str());
    return exit_done;
}

}  // namespace

void add_new(CLI::App& app, int& status) {
    auto name = std::make_shared<std::string>("job.toml");
    CLI::App* command = app.add_subcommand("new", "write a commented job file to start from");
    command->add_option("FILE", *name, "job file to write, not there yet")->capture_default_str();
    command->callback([name, &status] { status = run_new(*name); });
}

}  // namespace tearline::cli

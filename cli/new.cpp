#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>
#include <string>
#include <string_view>

#include "cli/commands.h"
#include "core/job/measuring_sheet.h"
#include "core/job/new_job_file.h"

namespace tearline::cli {

namespace {

int run_new(const std::string& name, std::string_view text, const char* then) {
    // "x": a job file that somebody has filled in is never written over.
    std::FILE* file = std::fopen(name.c_str(), "wbx");
    if (file == nullptr)
        return report(Error{ErrorKind::output_failed,
                            errno == EEXIST
                                ? name + ": exists already; name another file"
                                : name + ": cannot be written: " + std::strerror(errno)});
    const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
    if (!(std::fclose(file) == 0 && written)) {
        std::remove(name.c_str());
        return report(Error{ErrorKind::output_failed, name + ": could not be written whole"});
    }
    std::fprintf(stderr, "%s: %s\n", name.c_str(), then);
    return exit_done;
}

}  // namespace

void add_new(CLI::App& app, int& status) {
    struct Words {
        std::string file;
        bool sheet = false;
    };
    auto words = std::make_shared<Words>();
    CLI::App* command = app.add_subcommand("new", "write a commented job file to start from");
    command->add_option("FILE", words->file,
                        "file to write, not there yet; default job.toml or measuring-sheet.html");
    command->add_flag("--measuring-sheet", words->sheet,
                      "a page to print and fill in at a hull without a model");
    command->callback([words, &status] {
        const std::string standard = words->sheet ? "measuring-sheet.html" : "job.toml";
        const std::string file = words->file.empty() ? standard : words->file;
        status = words->sheet
                     ? run_new(file, job::measuring_sheet(),
                               "print it, fill it in at the hull, type it into a job file")
                     : run_new(file, job::new_job_file(),
                               "put in the hull, the damage and its depth, then: tearline plan");
    });
}

}  // namespace tearline::cli

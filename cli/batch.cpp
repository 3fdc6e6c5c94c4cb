#include <unistd.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <cmath>
#include <cstdio>
#include <memory>
#include <string>

#include "cli/commands.h"
#include "core/base/numbers.h"
#include "core/base/printable.h"
#include "core/batch/run_batch.h"
#include "core/batch/summary.h"

namespace tearline::cli {

namespace {

struct BatchWords {
    std::string list, folder, summary;
    std::size_t jobs = 0;
    std::string slice;
    bool lean = false;
    batch::JobLimits limits;
};

std::string check_slice(const std::string& text) {
    return batch::read_slice(text) ? std::string()
                                   : "'" + text +
                                         "' is no slice: K/N, K from 1 to N, as 3/8 for the third "
                                         "of eight";
}

/// "2 h 5 min", "4 min", "20 s".
std::string duration(double seconds) {
    constexpr double minute = 60.0, hour = 3600.0;
    if (seconds < 2.0 * minute) return fixed(seconds, 0) + " s";
    if (seconds < 2.0 * hour) return fixed(seconds / minute, 0) + " min";
    const double hours = std::floor(seconds / hour);
    return fixed(hours, 0) + " h " + fixed((seconds - hours * hour) / minute, 0) + " min";
}

std::string counted(const batch::BatchProgress& progress) {
    std::string text = std::to_string(progress.skipped + progress.ended()) + " of " +
                       std::to_string(progress.jobs) + " jobs";
    const auto add = [&](std::size_t count, const char* what) {
        if (count > 0) text += ", " + std::to_string(count) + what;
    };
    add(progress.skipped, " done before");
    add(progress.refused, " refused");
    add(progress.failed, " failed");
    return text;
}

/// One line that is rewritten, where a person watches; complaints stand above it.
class Screen {
public:
    void show(const batch::BatchProgress& progress) {
        if (!is_watched_) return;
        const auto left = progress.seconds_left();
        std::fprintf(stderr, "\r\033[K%s%s", counted(progress).c_str(),
                     left ? ("; " + duration(*left) + " left").c_str() : "");
        std::fflush(stderr);
    }
    void complain(const std::string& job, const std::string& why) {
        // A refusal begins with its file mostly, which is the job's.
        const bool named = why.starts_with(job);
        clear();
        std::fprintf(stderr, "%s\n", printable(named ? why : job + ": " + why, true).c_str());
    }
    void clear() {
        if (is_watched_) std::fprintf(stderr, "\r\033[K");
    }

private:
    const bool is_watched_ = isatty(STDERR_FILENO) != 0;
};

int summarise(const std::string& folder) {
    const auto summary = batch::write_summary(folder);
    if (!summary) return report(summary.error());
    std::fprintf(stderr, "%s\n%s: the same with pictures\n",
                 printable(summary->words, true).c_str(), printable(summary->page).c_str());
    return exit_done;
}

int run(const BatchWords& words) {
    Screen screen;
    batch::BatchOptions options;
    if (!words.slice.empty()) options.slice = batch::read_slice(words.slice);
    options.workers = words.jobs;
    options.lean = words.lean;
    options.limits = words.limits;
    options.progress = [&](const batch::BatchProgress& progress) { screen.show(progress); };
    options.complaint = [&](const std::string& job, const std::string& why) {
        screen.complain(job, why);
    };
    const auto done = batch::run_batch(words.list, words.folder, options);
    screen.clear();
    if (!done) return report(done.error());
    std::fprintf(stderr, "%s; results: %s\n", counted(*done).c_str(),
                 printable(batch::results_file(words.folder, options.slice)).c_str());
    if (done->failed == 0) return exit_done;
    std::fprintf(stderr, "tearline: %zu failed twice; the same command tries them again\n",
                 done->failed);
    return exit_bug;
}

void refuse_what_does_not_go_together(const CLI::App& command, const BatchWords& words) {
    if (words.summary.empty()) {
        if (words.list.empty()) throw CLI::RequiredError("LIST");
        if (words.folder.empty()) throw CLI::RequiredError("-o DIR");
        return;
    }
    for (const char* other : {"LIST", "-o", "--jobs", "--slice", "--lean"})
        if (command.count(other) > 0)
            throw CLI::ValidationError("--summary", std::string("does not go with ") + other);
}

}  // namespace

void add_batch(CLI::App& app, int& status) {
    const auto words = std::make_shared<BatchWords>();
    CLI::App* command = app.add_subcommand(
        "batch", "plan many jobs, each in a process of its own; goes on where it was stopped");
    command->add_option("LIST", words->list,
                        "text file with a job file a line, relative to its own folder; blank lines "
                        "and those that begin with # are passed over");
    command
        ->add_option("-o", words->folder,
                     "folder for the results, of this batch alone: results.jsonl, a line of JSON a "
                     "job; and a folder a job under plans")
        ->type_name("DIR");
    command
        ->add_option("--jobs", words->jobs, "jobs at once; one a core that may be used unless said")
        ->check(CLI::Range(1, 4096))
        ->type_name("N");
    command
        ->add_option("--slice", words->slice,
                     "the K-th of N parts of the list, every N-th job from the K-th on: for many "
                     "machines; results-K-of-N.jsonl")
        ->check(CLI::Validator(check_slice, "K/N"))
        ->type_name("");
    command->add_flag("--lean", words->lean, "the results alone, no folder a job");
    command
        ->add_option("--job-seconds", words->limits.seconds,
                     "processor time that one job may take; 300 s unless said")
        ->check(CLI::Range(1.0, 1e6))
        ->type_name("S");
    command
        ->add_option("--job-memory", words->limits.gigabytes,
                     "memory that one job may take; 4 GB unless said")
        ->check(CLI::Range(0.01, 1e4))
        ->type_name("GB");
    command
        ->add_option("--summary", words->summary,
                     "no jobs: a table and pictures of the results in DIR, summary.csv and "
                     "summary.html")
        ->type_name("DIR");
    add_read_limits(*command);
    command->footer(
        "Exit status: 0 when every job is done or refused for what it says (its status is 0, 3 or "
        "4); 1 when some failed, which the same command tries again; 2, 3 and 5 as of every "
        "command.");
    command->callback([words, command, &status] {
        refuse_what_does_not_go_together(*command, *words);
        status = words->summary.empty() ? run(*words) : summarise(words->summary);
    });
}

}  // namespace tearline::cli

#pragma once
#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "core/base/result.h"
#include "core/batch/job_list.h"
#include "core/batch/task.h"

namespace tearline::batch {

/// How far a batch is.
struct BatchProgress {
    std::size_t jobs = 0;                           ///< of the list or the slice
    std::size_t skipped = 0;                        ///< done before: their results stand
    std::size_t done = 0, refused = 0, failed = 0;  ///< by this run: 0; 3 or 4; what is not final
    double seconds = 0.0;                           ///< [s] since the first of them was begun

    [[nodiscard]] std::size_t ended() const { return done + refused + failed; }
    [[nodiscard]] std::size_t left() const { return jobs - skipped - ended(); }
    /// [s] by those that have ended; nothing before any has.
    [[nodiscard]] std::optional<double> seconds_left() const;
};

struct BatchOptions {
    std::optional<Slice> slice;
    std::size_t workers = 0;  ///< processes at once; 0: one a core that this process may use
    bool lean = false;        ///< results alone, no folders
    JobLimits limits;
    /// Told a few times a second, and after each job.
    std::function<void(const BatchProgress&)> progress{};
    /// Told of each job that is not done, by its name and why.
    std::function<void(const std::string& job, const std::string& why)> complaint{};
};

/// Where the results of a batch, or of a slice of it, stand.
[[nodiscard]] std::string results_file(const std::filesystem::path& folder,
                                       const std::optional<Slice>& slice);

/// Plans every job of a list, or of a slice of it, each in a process of its own: a line a job in
/// "results.jsonl" ("results-K-of-N.jsonl") of the folder, and unless lean a folder a job under
/// "plans/" there. Jobs whose results stand there already, of the same files, options and program,
/// are passed over: a run that was stopped at any moment goes on where it was.
///
/// @param folder  the batch's own
/// @return  how it went; progress.failed are those that a later run tries again
/// @error bad_input      the list
/// @error output_failed  the folder, or a signal came
[[nodiscard]] Result<BatchProgress> run_batch(const std::filesystem::path& list,
                                              const std::filesystem::path& folder,
                                              const BatchOptions& options = {});

}  // namespace tearline::batch

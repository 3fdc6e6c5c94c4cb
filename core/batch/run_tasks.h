#pragma once
#include <cstddef>
#include <functional>
#include <string>

#include "core/base/result.h"
#include "core/batch/task.h"

namespace tearline::batch {

/// What has become of a task.
struct Outcome {
    Status status;
    std::string line;  ///< of its result, whole, without its end
};

struct RunOptions {
    std::size_t workers = 0;       ///< processes at once; 0: one a core that this process may use
    std::function<void()> tick{};  ///< called a few times a second
};

/// Cores that this process may use.
[[nodiscard]] std::size_t usable_cores();

/// Plans many jobs, each in a process of its own that is this program started anew, so that a crash
/// or a runaway plan takes nothing else with it; they die with this process. A task that ends in
/// what is not final is tried once more after all others.
///
/// @param count     of tasks
/// @param task      the one of an index, asked when its turn comes
/// @param finished  told of each task once, in the order in which they end
/// @pre   one thread calls it; files::Interruption notes signals meanwhile
/// @error output_failed  no process can be started, `finished` failed, or a signal came: the rest
/// is
///                       not done, and no worker is left
[[nodiscard]] Result<void> run_tasks(
    std::size_t count, const std::function<Task(std::size_t)>& task,
    const std::function<Result<void>(std::size_t, const Outcome&)>& finished,
    const RunOptions& options = {});

}  // namespace tearline::batch

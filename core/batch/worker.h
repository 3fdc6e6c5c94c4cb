#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/batch/task.h"

namespace tearline::batch {

/// A worker's whole life: makes the plan that it is asked for and says how that went over its
/// standard input.
///
/// @return  its exit status
[[nodiscard]] int work(const Task& task);

/// What a worker is started as, and the words that tell it what to do.
[[nodiscard]] std::vector<std::string> worker_words(const Task& task);

/// Who is started as a worker works, and ends. To be called by main() before anything else.
///
/// @return  its exit status; nothing where this is no worker
[[nodiscard]] std::optional<int> work_if_asked(int argc, char** argv);

/// Of a worker that took more memory than its job may.
inline constexpr int exit_no_memory = 6;

/// What a worker says: each line begins with one of these.
enum Says : char {
    says_origin = 'o',  ///< before it plans: the hashes, as JSON
    says_result = 'r',  ///< at its end: the line of the result
};

}  // namespace tearline::batch

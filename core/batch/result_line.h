#pragma once
#include <optional>
#include <string>

#include "core/batch/task.h"
#include "core/files/origin.h"
#include "core/plan/plan.h"

namespace tearline::batch {

/// What is told of a job that has ended.
struct Told {
    std::string job;
    Status status;
    std::string message;
    files::Origin origin;
    const Plan* plan = nullptr;  ///< of a job that is done
    std::string folder = {};     ///< of its plan; empty for none
    bool what_if = false;
};

/// The line of a result, an object of JSON without the end of the line.
[[nodiscard]] std::string result_text(const Told& told);

/// The same line with what only who started the worker knows.
///
/// @param seconds  [s] by the clock
/// @param peak     [MB] of memory
[[nodiscard]] std::string with_cost(std::string text, double seconds, double peak);

}  // namespace tearline::batch

#pragma once
#include <filesystem>
#include <optional>
#include <string>

#include "core/hull/read_limits.h"
#include "core/job/change.h"

namespace tearline::batch {

inline constexpr double gigabyte = 1e9;  ///< [bytes]

/// What one job may take before it is stopped.
struct JobLimits {
    double seconds = 300.0;  ///< [s] of processor time, > 0
    double gigabytes = 4.0;  ///< [GB] beyond what the program itself takes, > 0

    /// [s] by the clock: a job that waits for what never comes has an end too.
    [[nodiscard]] double clock_seconds() const { return 60.0 + 10.0 * seconds; }
};

/// One plan to be made by a worker.
struct Task {
    std::filesystem::path room;  ///< absolute; the worker works there
    std::string job;             ///< its file, relative to that; what messages call it
    job::Changes changes;
    int after_ply = 0;
    std::filesystem::path out;  ///< absolute; where its plan belongs; empty for nowhere
    bool lean = false;          ///< no plan is written
    std::string folder;         ///< `out` as the result names it; empty where it does not
    bool what_if = false;       ///< tell what variants are compared by, with a picture
    JobLimits limits;
    hull::ReadLimits reading;
    std::string program;  ///< SHA-256 of the program
};

/// How a job ended.
struct Status {
    enum class Kind { exited, by_signal, over_limit };
    Kind kind = Kind::exited;
    int exit = 0;  ///< as `tearline plan` would have ended

    /// Whether another try would end the same: done, or refused for what the job says.
    [[nodiscard]] bool is_final() const {
        return kind == Kind::exited && (exit == 0 || exit == 3 || exit == 4);
    }
    [[nodiscard]] bool is_done() const { return kind == Kind::exited && exit == 0; }
    /// As JSON: 3, "signal", "limit".
    [[nodiscard]] std::string json() const {
        return kind == Kind::exited      ? std::to_string(exit)
               : kind == Kind::by_signal ? "\"signal\""
                                         : "\"limit\"";
    }
};

}  // namespace tearline::batch

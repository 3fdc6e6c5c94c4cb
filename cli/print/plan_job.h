#pragma once
#include <QTemporaryDir>
#include <memory>
#include <string>

namespace tearline::cli {

/// A job file worked out by `tearline plan`, for who opens it from a file manager.
struct PlannedJob {
    std::unique_ptr<QTemporaryDir> folder;  ///< of the plan; it goes when this goes
    int status = 0;                         ///< [-] exit status of `tearline plan`
    std::string said = {};                  ///< warnings, or why there is no plan
};

[[nodiscard]] PlannedJob plan_job(const std::string& file);

}  // namespace tearline::cli

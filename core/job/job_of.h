#pragma once
#include <filesystem>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/job/node.h"

namespace tearline::job {

/// The job that the tree of a job file says, checked as a whole.
///
/// @param last_line  [-] of the file: where a missing table is told
[[nodiscard]] Result<Job> job_of(const Node& root, const std::filesystem::path& file,
                                 int last_line);

}  // namespace tearline::job

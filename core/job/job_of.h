#pragma once
#include <filesystem>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/job/node.h"

namespace tearline::job {

/// Whether a job file holds nothing.
[[nodiscard]] bool is_blank(std::string_view text);

/// [-] The number of its last line.
[[nodiscard]] int lines_of(std::string_view text);

/// The job that the tree of a job file says, checked as a whole.
///
/// @param last_line  [-] of the file: where a missing table is told
[[nodiscard]] Result<Job> job_of(const Node& root, const std::filesystem::path& file,
                                 int last_line);

}  // namespace tearline::job

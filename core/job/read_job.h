#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/job/change.h"
#include "core/job/job.h"

namespace tearline::job {

/// Reads and checks a job file.
///
/// @error bad_input  "FILE:LINE: table.key: value: what would be right"; unknown keys name the
///                   nearest known one
[[nodiscard]] Result<Job> read_job(const std::filesystem::path& file);

/// The same from text; `file` is used in messages and for relative paths.
///
/// @param changes  values that go before those of the text
[[nodiscard]] Result<Job> parse_job(std::string_view text, const std::filesystem::path& file,
                                    const Changes& changes = {});

/// The text of a job file, no more than one may hold and a little: parse_job() refuses what is
/// longer.
///
/// @error bad_input  a folder, or what cannot be read
[[nodiscard]] Result<std::string> read_job_text(const std::filesystem::path& file);

}  // namespace tearline::job

#pragma once
#include <filesystem>
#include <string>

#include "core/base/result.h"

namespace tearline::batch {

/// What was written, for a person.
struct Summary {
    std::string words;  ///< how many jobs, how they ended
    std::string page;   ///< path of summary.html
};

/// Writes "summary.csv" and "summary.html" into the folder of a batch: a line for each result of
/// all its slices, and pictures of them all.
///
/// @error bad_input      no results there
/// @error output_failed  the files could not be written
[[nodiscard]] Result<Summary> write_summary(const std::filesystem::path& folder);

}  // namespace tearline::batch

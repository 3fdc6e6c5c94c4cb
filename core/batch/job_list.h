#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"

namespace tearline::batch {

/// The jobs of a list: a job file a line, relative to the list's folder. Blank lines and those that
/// begin with '#' count for nothing; blanks about a name are no part of it ("./#9.toml" names what
/// begins with '#').
///
/// @return the names as they stand there, in order
/// @error bad_input  no list, no job in it, a name twice, or one that is no printable UTF-8
[[nodiscard]] Result<std::vector<std::string>> read_job_list(const std::filesystem::path& list);

/// Every N-th job of a list, from the K-th on.
struct Slice {
    int k = 1;  ///< [-] from 1
    int n = 1;

    [[nodiscard]] bool holds(std::size_t index) const {
        return static_cast<int>(index % static_cast<std::size_t>(n)) == k - 1;
    }
};

/// "3/8": K from 1 to N.
[[nodiscard]] std::optional<Slice> read_slice(std::string_view text);

/// Those of a slice; without one, all.
[[nodiscard]] std::vector<std::string> jobs_of_slice(const std::vector<std::string>& jobs,
                                                     const std::optional<Slice>& slice);

/// Where a job's plan goes below the folder of its batch: "plans/3f/curlew-3f9a12c4", by the name
/// in the list alone, so that it stays the same whatever else the list holds. In 256 folders: each
/// is locked while one of its plans is written, and few workers meet in one.
[[nodiscard]] std::string plan_folder(const std::string& job);

}  // namespace tearline::batch

#pragma once

#include <algorithm>
#include <string_view>
#include <vector>

namespace tearline::job {

/// Whether a name of a job file stands in a list of names.
inline bool is_one_of(std::string_view name, const std::vector<std::string_view>& names) {
    return std::find(names.begin(), names.end(), name) != names.end();
}

}  // namespace tearline::job

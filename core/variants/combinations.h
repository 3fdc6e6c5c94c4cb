#pragma once
#include <cstddef>
#include <vector>

#include "core/job/change.h"

namespace tearline::variants {

/// More are no choice that a person could look over.
inline constexpr std::size_t most_combinations = 1000;

/// How many combinations there are; never more than one over the most, whatever is asked.
[[nodiscard]] std::size_t count_combinations(const std::vector<job::Variation>& variations);

/// Every combination of one value of each key; the last key's values change first.
[[nodiscard]] std::vector<job::Changes> combinations(const std::vector<job::Variation>& variations);

}  // namespace tearline::variants

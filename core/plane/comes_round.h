#pragma once
#include <algorithm>

#include "core/base/outline.h"

namespace tearline::plane {

/// Whether a line comes round to its start, its two ends no farther apart than twice its longest
/// step: a ring that the hull's end cuts does not.
[[nodiscard]] inline bool comes_round(const Loop2& line) {
    double longest = 0.0;
    for (std::size_t i = 1; i < line.size(); ++i)
        longest = std::max(longest, (line[i] - line[i - 1]).norm());
    return !line.empty() && (line.front() - line.back()).norm() <= 2.0 * longest;
}

}  // namespace tearline::plane

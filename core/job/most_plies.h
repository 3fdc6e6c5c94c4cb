#pragma once
#include <cstddef>

namespace tearline::job {

/// Plies of one stack or fill, covers apart: 6 cm of mat; more is no hand lay-up in one repair.
inline constexpr std::size_t most_plies = 60;

}  // namespace tearline::job

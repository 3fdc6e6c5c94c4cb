#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "core/job/job.h"
#include "core/quantities/cup.h"

namespace tearline::quantities {

/// What is laid in one go. The priming coat comes first, as a stage without plies.
struct Stage {
    std::vector<int> plies;  ///< numbers; empty for the priming coat
    double thickness_mm = 0.0;
    std::vector<Cup> cups;
    std::string then;  ///< what to wait for, and to do, before the next; sentences
    /// Of its first cup, for the ground: the priming coat where it is too small to be dosed.
    double primes_g = 0.0;
    std::string part{};  ///< of a repair of several: "from inside", "inner skin"
    /// Cup of the boat's sheet that all of it is taken out of, from 1; 0: it has cups of its own.
    int boat_cup = 0;
};

/// Thickness that may be laid wet on wet in one go [mm]: less on a wall, less again overhead.
///
/// @source common practice: 3/4 of it on vertical, half of it on overhead work
[[nodiscard]] double stage_limit(const job::Job& job);

/// How many plies each stage takes, in the order of laying.
///
/// The fewest stages of at most `limit`, of those the thinnest maximum, of those the earlier ones
/// thicker. A ply thicker than the limit is a stage of its own.
///
/// @param thicknesses  [mm] in the order of laying, each > 0
/// @param limit        [mm] > 0
[[nodiscard]] std::vector<std::size_t> divide_into_stages(std::span<const double> thicknesses,
                                                          double limit);

}  // namespace tearline::quantities

#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "core/job/job.h"
#include "core/quantities/cup.h"

namespace tearline::quantities {

/// What is laid in one go. The priming coat comes before the first plies, as a stage without any.
struct Stage {
    std::vector<int> plies;  ///< numbers; empty for all but plies
    double thickness_mm = 0.0;
    std::vector<Cup> cups;
    std::string then;  ///< what to wait for, and to do, before the next; sentences
    /// Of its first cup, for the ground: the priming coat where it is too small to be dosed.
    double primes_g = 0.0;
    /// Of a repair of several: "from inside"; of what closes a hole: "gel coat".
    std::string part{};
    /// Cup of the boat's sheet that all of it is taken out of, from 1; 0: it has cups of its own.
    int boat_cup = 0;
    /// What closes a hole comes before the plies that it carries: release agent and gel coat on a
    /// mould, a backing that stays, the sealing of a core.
    enum class Of { plies, ground, release, gel_coat, backing, core };
    Of of = Of::plies;
    std::vector<Cup> gel_cups{};  ///< of gel coat, which `resin_g` is there; no resin is in them
    double area_mm2 = 0.0;        ///< that it wets, of what closes a hole
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

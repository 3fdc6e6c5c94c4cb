#pragma once
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/warnings/warning.h"

namespace tearline::plies {

/// How a ply's mid-plane lies.
enum class Lies {
    level,    ///< at its lay_depth all over
    along,    ///< along the dish, over what lies under it there
    resting,  ///< on what lies under it, or higher where the dish's wall is higher
};

/// One layer before it meets the hull: how far its edge lies out and how deep it lies.
struct PlyLevel {
    int number = 0;  ///< in the order of laying, from 1
    job::StackEntry entry;
    bool cover = false;         ///< named as cover, or starts at or above the depth
    double thickness = 0.0;     ///< [mm]
    double height_below = 0.0;  ///< [mm] H_(k-1): what lies under it over the floor
    double edge_offset = 0.0;   ///< [mm] e_k, outside the damage outline
    Lies lies = Lies::level;
    double rest_depth = 0.0;  ///< [mm] of what it rests on over the floor
    double lay_depth =
        0.0;  ///< [mm] of the mid-plane over the floor, negative above the base surface
    double edge_depth = 0.0;  ///< [mm] of the dish where its edge lies
};

struct PlyLevels {
    std::vector<PlyLevel> plies;
    /// The dish's profile as (offset outside the outline, depth) pairs, from (0, D) to (w, 0):
    /// a straight scarf, or the piecewise linear one that `least_step` makes of it.
    std::vector<Vec2> dish;
    double stack_thickness = 0.0;  ///< [mm] H_n without covers
    double laid_thickness = 0.0;   ///< [mm] with covers
    Warnings warnings;
};

/// Edges, depths and thicknesses of every ply (DEFINITIONS.md, Edges and Lay surface).
[[nodiscard]] Result<PlyLevels> ply_levels(const job::Job& job);

/// Depth of the dish at an offset outside the outline [mm]; D inside (offset <= 0), 0 beyond.
[[nodiscard]] double dish_depth(const PlyLevels& levels, double offset);

/// Depth of a ply's mid-plane where the dish is so deep [mm].
///
/// Smallest first: constant. Largest first: follows the dish. Covers: min(D - H_(k-1), dish) - t/2.
[[nodiscard]] double lay_depth_over(const PlyLevel& ply, double dish_depth);

}  // namespace tearline::plies

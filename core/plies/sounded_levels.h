#pragma once
#include <vector>

#include "core/base/outline.h"
#include "core/dish/measured_dish.h"
#include "core/plies/ply_levels.h"

namespace tearline::plies {

/// The plies of a dish that was measured, each a level of its depth.
struct SoundedLevels {
    PlyLevels levels;
    std::vector<std::vector<Region2>> regions;  ///< [mm] in the chart, by place in levels.plies;
                                                ///< none for covers
};

/// A ply lies where at least half of it still fits below the base surface, over or under the others
/// of the stack: deeper than what lies over it there and half its own thickness (smallest first;
/// deep pockets get small pieces first), or than what lies under it and half its own (largest
/// first).
///
/// Parts narrower than tolerance::sliver are joined to a neighbour as near, or dropped, with a
/// warning; plies of a stack without a place are left out, a fill is laid in as many plies as find
/// one, with a warning. Plies up to job.after_ply are laid
/// already; the others keep their numbers.
/// @param planned  what ply_levels() makes of the job: warnings, profile and covers
/// @param ground_offset  [mm] of the ground area's edge outside the damage outline
[[nodiscard]] Result<SoundedLevels> sounded_levels(const job::Job& job, PlyLevels planned,
                                                   const dish::MeasuredDish& dish,
                                                   double ground_offset);

/// How thick the plies are that lie at a depth of the dish [mm].
[[nodiscard]] double laid_at(const std::vector<PlyLevel>& plies, double depth);

}  // namespace tearline::plies

#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/warnings/warning.h"

namespace tearline::ground {
struct Ground;
}

namespace tearline::plan {

/// What the plies laid so far have really built, by soundings before and after.
struct BuiltSoFar {
    int plies = 0;
    double planned_mm = 0.0, built_mm = 0.0;  ///< where all of them lie
    struct Ply {
        int number = 0;
        double thickness_mm = 0.0;   ///< its share of what was built
        double glass_content = 0.0;  ///< [-] by mass, that this thickness means
    };
    std::vector<Ply> each;
};

/// Compares the work up to job.after_ply with what was planned: by the soundings taken on it, and
/// the soundings of the dish before it, or the planned dish where there were none.
///
/// @param ground  of what is left
/// @error bad_input  soundings that show nothing laid yet
[[nodiscard]] Result<BuiltSoFar> built_so_far(const job::Job& job, const ground::Ground& ground);

/// What it means, in words: resin-rich, starved, or as planned.
[[nodiscard]] Warnings judged(const BuiltSoFar& built);

/// The glass content by mass that a thickness means.
/// @source  t = w/rho_g + w (1 - psi)/(psi rho_m) (DEFINITIONS.md, Edges), solved for psi
[[nodiscard]] double glass_content_of(double thickness, GramsPerSquareMetre weight,
                                      double cured_density);

}  // namespace tearline::plan

#pragma once
#include <span>
#include <vector>

#include "core/base/progress.h"
#include "core/base/result.h"
#include "core/ground/ground.h"
#include "core/job/job.h"
#include "core/templates/laid_ply.h"
#include "core/warnings/warning.h"

namespace tearline::plan {

/// Plies in the order of laying, and what there is to tell of them.
struct LaidPlies {
    std::vector<templates::LaidPly> plies;
    Warnings warnings;
};

/// Lays plies on the hull and flat on the table.
///
/// @param levels  some of ground.levels.plies
/// @error no_safe_answer  a ply has no flat shape that we would cut by; the message names it
[[nodiscard]] Result<LaidPlies> lay_plies(const ground::Ground& ground, const job::Job& job,
                                          std::span<const plies::PlyLevel> levels,
                                          const Progress& progress = {});

}  // namespace tearline::plan

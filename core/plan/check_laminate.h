#pragma once
#include <optional>

#include "core/job/job.h"
#include "core/laminate/compare.h"
#include "core/laminate/scarf_check.h"
#include "core/plies/ply_levels.h"
#include "core/warnings/warning.h"

namespace tearline::plan {

/// What stays of a repair against the old laminate; nothing where there are no plies.
struct LaminateCheck {
    std::optional<laminate::Comparison> comparison;
    std::optional<laminate::ScarfCheck> scarf;
    Warnings warnings;
};

/// Compares what stays with the old laminate and checks the scarf, and warns of what that shows.
///
/// @param kept   [mm] over the floor when the repair is sanded fair
/// @param built  [mm] of it, by plies that lie already
[[nodiscard]] LaminateCheck check_laminate(const plies::PlyLevels& levels, const job::Job& job,
                                           double kept, double built);

}  // namespace tearline::plan

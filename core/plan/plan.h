#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/job/job.h"
#include "core/laminate/compare.h"
#include "core/laminate/scarf_check.h"
#include "core/layout/nest_rolls.h"
#include "core/plan/built_so_far.h"
#include "core/plan/check_measurements.h"
#include "core/plan/describe_ground.h"
#include "core/plan/scan_errors.h"
#include "core/quantities/quantities.h"
#include "core/quantities/shopping.h"
#include "core/templates/laid_ply.h"
#include "core/warnings/warning.h"

namespace tearline {

/// A repair worked out: what plan.json, pictures, cutter files and the CAD plugin are written from.
struct Plan {
    job::Job job;  ///< its points found on the hull
    std::string model_sha256;
    plan::Place place;
    std::vector<templates::LaidPly> plies;
    quantities::Quantities quantities;  ///< of one copy
    std::vector<layout::Roll> rolls;    ///< for all copies
    quantities::Shopping shopping;      ///< for all copies
    std::vector<plan::MeasuredCheck> measured;
    std::optional<plan::ScanTold> scan;
    std::optional<quantities::DishVolumes> volumes;
    std::optional<plan::BuiltSoFar> built;
    std::optional<laminate::Comparison> comparison;  ///< with the old laminate
    std::optional<laminate::ScarfCheck> scarf_check;
    Warnings warnings;
};

}  // namespace tearline

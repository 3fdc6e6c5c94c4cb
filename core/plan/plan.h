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
#include "core/plan/closing_plan.h"
#include "core/plan/describe_ground.h"
#include "core/plan/flat_asked.h"
#include "core/plan/scan_errors.h"
#include "core/plan/ways.h"
#include "core/quantities/quantities.h"
#include "core/quantities/shopping.h"
#include "core/templates/laid_ply.h"
#include "core/warnings/warning.h"

namespace tearline {

/// A repair worked out: what plan.json, pictures, cutter files and the CAD plugin are written from.
struct Plan {
    job::Job job;        ///< its points found on the hull
    std::string repair;  ///< its name among the places of one boat; empty: it is the only one
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
    double dish_mm3 = 0.0;  ///< what is ground out of the skin, of all parts
    /// A repair of several parts, sides or skins, in the order of work; each a plan of its own.
    /// What stands above is then of all of them, `place` of the one under the hand.
    std::vector<Plan> parts;
    std::optional<plan::BackingPlan> backing;
    std::optional<plan::CorePlan> core;
    std::vector<plan::Way> ways;
    std::optional<plan::FlatAsked> flat;  ///< a face or a piece of a model laid flat, and no repair
};

}  // namespace tearline

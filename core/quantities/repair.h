#pragma once
#include <optional>
#include <span>
#include <vector>

#include "core/base/vec.h"
#include "core/job/job.h"
#include "core/quantities/dish_volumes.h"
#include "core/templates/laid_ply.h"

namespace tearline::quantities {

/// What a repair takes up of the base surface.
struct Areas {
    double damage_mm2 = 0.0, damage_perimeter_mm = 0.0;
    double scarf_mm2 = 0.0;  ///< that is ground and primed
    double footprint_mm2 = 0.0, footprint_perimeter_mm = 0.0;
    double lap_mm2 = 0.0;  ///< beyond the hull's end, that cloth is lapped on to

    /// That is ground and primed, beyond the hull's end too.
    [[nodiscard]] double ground_mm2() const { return scarf_mm2 + lap_mm2; }
    /// All that is touched, beyond the hull's end too.
    [[nodiscard]] double touched_mm2() const { return footprint_mm2 + lap_mm2; }
};

/// A repair laid out: what its amounts follow from.
struct Repair {
    const job::Job& job;
    std::span<const templates::LaidPly> plies;
    Areas areas;
    std::vector<Vec2> dish;              ///< [mm] (offset outside the outline, depth), to depth 0
    std::optional<DishVolumes> volumes;  ///< of a dish known by soundings
    double built_mm = 0.0;               ///< what the plies laid so far have really built
};

}  // namespace tearline::quantities

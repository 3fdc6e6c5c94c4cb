#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "core/base/result.h"
#include "core/damage/damage_outline.h"
#include "core/damage/flat_frame.h"
#include "core/damage/openings.h"
#include "core/dish/depth_field.h"
#include "core/ground/end_lap.h"
#include "core/ground/wrap_tube.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/plies/net_region.h"
#include "core/plies/opening_levels.h"
#include "core/plies/ply_levels.h"
#include "core/surface/patch.h"
#include "core/templates/tape_ticks.h"

namespace tearline::ground {

/// Where a dish was ground steeper than the ratio.
struct TooSteep {
    plies::NetRegion region;
    double to_grind = 0.0;  ///< [mm] the most that must still come off
};

/// What every ply of a repair stands on.
struct Ground {
    plies::PlyLevels levels;
    surface::Patch patch;
    std::optional<EndLap> lap;     ///< where cloth goes over the hull's end
    std::optional<TubeWrap> wrap;  ///< where it goes right round a tube
    /// The same surface as far as straightedges reach, where that is farther than the repair needs
    /// it.
    std::optional<surface::Patch> around;
    damage::DamageOutline outline;
    damage::FlatFrame frame;
    std::vector<damage::KeptOpening> openings;  ///< that the cloth goes round
    /// The dish by a scan, as it is and before anything was laid in it; null where there is none.
    std::shared_ptr<const hull::DishPoints> dish_points, dish_before;
    std::unique_ptr<const dish::DepthField> dish;  ///< set once the ground is laid
    std::vector<plies::NetRegion> ply_regions;     ///< by place in levels.plies
    /// Lines round `openings`, once the ground is laid.
    std::vector<plies::OpeningLevels> opening_levels;
    std::vector<TooSteep> too_steep;
    std::vector<plies::NetRegion> regions;      ///< by ascending offset; look up by region_at()
    std::vector<templates::TapeWay> mark_ways;  ///< tapes from the middle to the marks
    double scarf_offset = 0.0;      ///< [mm] where the dish comes out at the base surface
    double footprint_offset = 0.0;  ///< [mm] the outermost tear or cut line

    /// The region of one of the offsets asked for when the ground was laid.
    [[nodiscard]] const plies::NetRegion& region_at(double offset) const;
    /// What cloth is laid on: the patch, and the face beyond the hull's end that it is lapped on
    /// to.
    [[nodiscard]] const surface::Patch& under_cloth() const {
        return lap ? lap->over->patch : patch;
    }
    /// The footprint's regions, what lies beyond the hull's end with them [mm].
    [[nodiscard]] const std::vector<Region2>& footprint_under_cloth() const {
        return lap ? lap->footprint : region_at(footprint_offset).chart;
    }

    /// The region of one of levels.plies.
    [[nodiscard]] const plies::NetRegion& region_of(const plies::PlyLevel& ply) const;
    /// Where the dish bends: the lines that answer to an offset outside the outline, those about
    /// openings that the scarf rises to and those that go on over the hull's end with the cloth.
    [[nodiscard]] std::vector<std::vector<Vec2>> bend_lines(double offset) const;
};

/// How far beyond the outline of its damage a job needs the hull [mm].
///
/// @error  as plies::ply_levels()
[[nodiscard]] Result<double> reach_beyond_outline(const job::Job& job);

/// The hull meshed round the damage with the outline drawn on it: where soundings are taken, before
/// anything else of the ground is known.
///
/// @error  as lay_ground()
[[nodiscard]] Result<Ground> bare_ground(const job::Job& job, const hull::Hull& hull,
                                         plies::PlyLevels levels);

/// Refuses to plan on after a ply when nobody measured the work as it then was.
[[nodiscard]] Result<void> check_cured_work(const job::Job& job, const hull::Hull& hull);

/// Meshes the hull round the damage, draws the outline and every net line on it.
///
/// @error bad_input       damage that cannot be where the job says
/// @error no_safe_answer  a neighbourhood that winds round a tube, or a cut at an undeclared
/// centreline
[[nodiscard]] Result<Ground> lay_ground(const job::Job& job, const hull::Hull& hull);

/// The same on a patch and an outline that are there already.
///
/// @param around  the same surface as far as straightedges reach, where `patch` ends before
/// @param dish    by a scan; null where there is none
[[nodiscard]] Result<Ground> lay_ground(const job::Job& job, plies::PlyLevels levels,
                                        surface::Patch patch, damage::DamageOutline outline,
                                        std::optional<surface::Patch> around = {},
                                        std::shared_ptr<const hull::DishPoints> dish = {});

}  // namespace tearline::ground

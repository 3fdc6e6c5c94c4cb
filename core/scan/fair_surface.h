#pragma once
#include <optional>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/scan/data_holes.h"
#include "core/scan/fair_field.h"
#include "core/scan/noise.h"
#include "core/scan/two_arc.h"
#include "core/scan/unfollowed.h"

namespace tearline::scan {

/// A strip of surface along a line.
struct Strip {
    Vec3 from{0, 0, 0}, to{0, 0, 0};  ///< [mm]
    double half_width = 100.0;        ///< [mm]
};

/// Where a fair surface is wanted, and what of the points about it is sound skin.
struct FairRequest {
    Vec3 middle{0, 0, 0};       ///< [mm] of the damage
    Vec3 outward{0, 0, 1};      ///< roughly which way the surface faces there
    std::vector<Vec3> outline;  ///< [mm] round what is not believed, in order; none: all is sound
    std::vector<Vec3> also_wanted;  ///< [mm] places of its domain where no point may lie
    double reach = 300.0;           ///< [mm] how far round the middle the surface is wanted
    double spacing = 2.0;           ///< [mm] between neighbouring points
    Noise least_noise;  ///< of the kind of scanner: what is seen is never taken for less
    std::optional<double> fairness;  ///< [mm] l; else by the noise
    bool follow_bends = true;        ///< l falls in bends that it cannot follow
    std::optional<Strip> strip;      ///< within the reach the surface is wanted here alone
};

/// The fair surface through sound skin: two arcs, and a fair field of heights over them.
struct FairSurface {
    TwoArc base;
    FairField field;
    FairField less_fair;          ///< with l / 1.5: how much hangs on l
    Vec2 middle{0, 0};            ///< [mm] by parameters: of the damage
    Region2 bridged;              ///< [mm] by parameters: outline with its guard, not believed
    Noise noise;                  ///< as seen, the scanner's at least
    Noise seen;                   ///< as seen
    double fairness = 0.0;        ///< [mm] l where it is not shorter for a tight bend
    double least_fairness = 0.0;  ///< [mm] in the tightest bend
    std::size_t points = 0, used = 0;
    Loop2 domain;  ///< [mm] by parameters: where points lie, holes between them and the bridged
                   ///< part filled; counter-clockwise
    std::vector<DataHole> data_holes;  ///< where no point lies though the scan goes on all round
    std::size_t strays = 0;            ///< points off the surface outside the bridged part
    Vec3 farthest_stray{0, 0, 0};      ///< [mm]
    double stray_off = 0.0;            ///< [mm]
    std::optional<Unfollowed> unfollowed;  ///< where it leaves the skin, outside the bridged part
    double spacing = 0.0;              ///< [mm] between neighbouring points
    double cover_degrees = 0.0;        ///< of the band round the outline, by sound points

    /// How far off the surface may be at a place, of one spread, along the normal [mm].
    [[nodiscard]] double height_error(const Vec2& uv) const;
    [[nodiscard]] SurfaceJet jet(const Vec2& uv) const { return base.over(uv, field.jet(uv)); }
    [[nodiscard]] Vec3 point(const Vec2& uv) const { return base.point(uv, field.at(uv)); }
    /// How far a point lies outside the surface, along the base's normal [mm].
    [[nodiscard]] double off(const Vec3& point) const {
        const auto foot = base.foot(point);
        return foot.distance - field.at(foot.uv);
    }
};

/// @param points  [mm] of the scan about the damage
/// @error no_safe_answer  too few points, or too few on sound skin, to carry a surface
[[nodiscard]] Result<FairSurface> fair_surface(const std::vector<Vec3>& points,
                                               const FairRequest& request);

}  // namespace tearline::scan

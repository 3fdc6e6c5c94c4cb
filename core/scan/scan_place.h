#pragma once
#include <optional>
#include <vector>

#include "core/job/job.h"
#include "core/scan/scan.h"

namespace tearline::scan {

/// The hull's own end, as it was told: what the scan shows beyond it is a flange or something else,
/// and no skin; up to it the surface is wanted though no point may lie there.
struct ScanEnd {
    std::vector<Vec3> at;  ///< [mm] places along it, close together
    std::vector<Vec3>
        out;  ///< unit, of each: along the surface, square to the end and off the hull

    [[nodiscard]] bool is_beyond(const Vec3& p) const;
    /// Places along the end and a little beyond it, so far apart as neighbouring points.
    [[nodiscard]] std::vector<Vec3> ribbon(double spacing) const;
};

/// Where on a scan a repair is.
struct ScanPlace {
    std::vector<Vec3> outline;  ///< [mm] of the damage, near the surface, in order; none: a middle
    Vec3 middle{0, 0, 0};       ///< [mm]
    bool follow_bends = true;   ///< fairness falls where the hull bends tighter than it follows
    bool bridged = true;        ///< what lies inside the outline is not believed
    Vec3 faces{0, 0, 0};        ///< which way it is looked at from; zero: by its own skin
    std::optional<ScanEnd> end;
    double reach =
        0.0;  ///< [mm] how far beyond the outline, or round the middle, the surface is wanted

    /// From the middle to the farthest of the outline [mm].
    [[nodiscard]] double half_width() const;
    /// Half the side of the square that is wanted of the surface, the band of sound skin in it.
    [[nodiscard]] double half_side() const;
};

/// The part of a job that says where the damage lies on a scan.
///
/// Where the outline is known by tape only, the middle of the marks, with nothing bridged.
/// @param beyond  [mm] what the repair needs beyond the outline
[[nodiscard]] ScanPlace place_of(const job::Job& job, const Scan& scan, double beyond);

/// Points at most `radius` from a place, each once, in an order that hangs on nothing else.
[[nodiscard]] std::vector<Vec3> points_within(const std::vector<Vec3>& points, const Vec3& middle,
                                              double radius);

/// The direction in which points from `least` to `most` from a place scatter least, its sign open.
[[nodiscard]] Vec3 normal_about(const std::vector<Vec3>& points, const Vec3& middle, double least,
                                double most);

}  // namespace tearline::scan

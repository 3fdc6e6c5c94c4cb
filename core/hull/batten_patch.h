#pragma once
#include <string>
#include <vector>

#include "core/base/vec.h"
#include "core/job/measurements.h"

namespace tearline::hull {

/// A doubly curved patch that rocks a batten as the hull does.
///
/// An arc across, swung along an arc along: a sphere, cylinder, torus or saddle. Where the gaps
/// were measured again at the ends the curvatures change from side to side by up to second order.
struct BattenPatch {
    double along = 0.0, across = 0.0;  ///< [1/mm] curvature in the middle, positive where bulging
    /// [mm] height added at half a batten from the middle: u^2 v, u v^2 and u^2 v^2.
    double along_changes = 0.0, across_changes = 0.0, both_change = 0.0;
    double half = 0.0;  ///< [mm] half a batten: the unit of u and v in the heights added

    /// The point at arc lengths u along and v across [mm]: x along, y across, z out of the hull.
    [[nodiscard]] Vec3 at(double u, double v) const;

    enum class Way { along, across };
    /// The gap under a batten that touches at (u, v): the mean of both ends, square to it [mm].
    [[nodiscard]] double gap(double u, double v, Way way) const;
};

/// Curvature of a hull that gaps so far under half a batten of this length: a circle through the
/// ends, both for a chord and for a tangent; and back again [mm, 1/mm].
[[nodiscard]] double curvature_of_gap(double gap, double half);
[[nodiscard]] double gap_of_curvature(double curvature, double half);

/// A gap with where it was measured.
struct BattenReading {
    std::string place;  ///< "gap_along", "gap_across_ends[2]"
    double gap = 0.0;   ///< [mm]
    double u = 0.0, v = 0.0;
    BattenPatch::Way way = BattenPatch::Way::along;
};

[[nodiscard]] std::vector<BattenReading> readings(const job::BattenGaps& gaps);

/// The patch whose gaps are as measured; where they contradict each other, nearest to all of them.
[[nodiscard]] BattenPatch batten_patch(const job::BattenGaps& gaps);

}  // namespace tearline::hull

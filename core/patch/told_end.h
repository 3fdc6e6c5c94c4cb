#pragma once
#include <vector>

#include "core/base/vec.h"
#include "core/surface/open_spline.h"

namespace tearline::patch {

/// The hull's own end as a person told it: a smooth line through points along it, for a hull known
/// by a scan or by figures taken by hand, which end where nobody measured on.
class ToldEnd {
public:
    /// [mm] what lies this near to the line lies on it: what a person picks or measures by tape, as
    /// with points of an outline that lie on the end.
    static constexpr double near = 3.0;

    /// @param points  [mm] two or more, neighbours apart
    explicit ToldEnd(const std::vector<Vec3>& points);

    /// A place of the line, by the number of the point before it and the part of the way to the
    /// next one; straight on beyond the first and the last point.
    [[nodiscard]] Vec3 point(double at) const;

    struct Foot {
        double at = 0.0;
        Vec3 place, along;  ///< [mm] and unit
    };
    /// The place of the line nearest to a point.
    [[nodiscard]] Foot nearest(const Vec3& p) const;

    /// How far a point of the hull lies beside the line, on its right seen against `normal` [mm].
    [[nodiscard]] double beside(const Vec3& p, const Vec3& normal) const;

    /// Whether a place of the hull lies on the line, between its first point and its last.
    [[nodiscard]] bool holds(const Vec3& place, const Vec3& normal) const;

private:
    [[nodiscard]] Vec3 along(double at) const;

    surface::OpenSpline line_;
    std::vector<Vec3> samples_;  ///< several a segment, to start looking from
};

}  // namespace tearline::patch

#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/dish/measured_dish.h"
#include "core/scan/fair_field.h"
#include "core/scan/noise.h"

namespace tearline::dish {

/// The dish by a scan: a fair field through the depths of its points.
///
/// Short waves are smoothed away as noise, and rims are rounded over with them: as long ones as
/// makes both errors alike. Its deepest place is the middle of its floor: of all that may be as deep
/// as the deepest place but for noise.
class ScannedDish final : public MeasuredDish {
public:
    /// @param ground  [mm] the ground area in the chart
    /// @param depths  of points in the chart, in it and about it
    /// @error bad_input  too few points in the ground area, or none below the old surface
    [[nodiscard]] static Result<ScannedDish> through(std::vector<Region2> ground,
                                                     std::vector<scan::FieldPoint> depths,
                                                     const scan::Noise& noise);

    [[nodiscard]] double before_cut(const Vec2& chart_point) const override {
        return field_.at(chart_point);
    }
    [[nodiscard]] Vec2 slope(const Vec2& chart_point) const override;
    [[nodiscard]] const ScannedDish* scan() const override { return this; }

    /// How far off the depth at a place may be by noise and by what was smoothed away, one spread
    /// [mm]; that of the old surface it is counted from is not in it.
    [[nodiscard]] double depth_error(const Vec2& chart_point) const;
    /// The same of the deepest place [mm].
    [[nodiscard]] double deepest_error() const { return deepest_error_; }

private:
    using MeasuredDish::MeasuredDish;
    void find_deepest();

    scan::FairField field_;
    scan::FairField less_fair_;  ///< with l / 1.5: how much hangs on l
    double length_ = 0.0;        ///< [mm] l
    double density_ = 0.0;       ///< [mm4] of the noise
    double deepest_error_ = 0.0;
};

}  // namespace tearline::dish

#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/dish/measured_dish.h"
#include "core/scan/fair_field.h"
#include "core/scan/noise.h"

namespace tearline::dish {

/// The dish by a scan: a fair field through the depths of its points.
///
/// Waves shorter than a few times what the scanner errs together are smoothed away, so that rims
/// are rounded over as much. Its deepest place is that of the field, less what noise alone makes of
/// a flat floor.
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

private:
    using MeasuredDish::MeasuredDish;
    scan::FairField field_;
};

}  // namespace tearline::dish

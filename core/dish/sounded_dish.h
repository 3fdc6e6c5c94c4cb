#pragma once
#include <span>
#include <string>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/dish/measured_dish.h"
#include "core/dish/thin_plate.h"

namespace tearline::dish {

/// A depth with its place in the chart.
struct ChartSounding {
    Vec2 at{0, 0};       ///< [mm]
    double depth = 0.0;  ///< [mm] below the base surface
    std::string name;    ///< for messages: "damage.sounding[3]"
};

/// The dish by soundings: a smooth depth field through them, zero on the outline of the ground
/// area.
///
/// The surface through them bends least (thin-plate spline); it is cut off at the deepest sounding,
/// which the measuring sheet asks for. Soundings as deep as that are the floor: the surface may
/// pass above them, so that a wall meets a flat floor in a crease and does not swing round it.
/// @source  Duchon, Splines minimizing rotation-invariant semi-norms in Sobolev spaces (1977)
class SoundedDish final : public MeasuredDish {
public:
    /// @param ground     [mm] the ground area in the chart
    /// @error bad_input  two soundings that no ground slope can join, with their names; fewer than
    ///                   five places, the others taken twice
    [[nodiscard]] static Result<SoundedDish> through(std::vector<Region2> ground,
                                                     std::vector<ChartSounding> soundings);

    [[nodiscard]] const SoundedDish* soundings() const override { return this; }
    [[nodiscard]] double before_cut(const Vec2& chart_point) const override {
        return plate_.at(chart_point);
    }
    [[nodiscard]] Vec2 slope(const Vec2& chart_point) const override {
        return plate_.slope(chart_point);
    }

    /// Soundings leave-one-out: what the others say at each, less what was read [mm].
    [[nodiscard]] const std::vector<double>& surprise() const { return surprise_; }

private:
    using MeasuredDish::MeasuredDish;
    void name_outliers(const std::vector<ChartSounding>& soundings,
                       const std::vector<PlatePoint>& points);

    ThinPlate plate_;
    std::vector<double> surprise_;
};

}  // namespace tearline::dish

#pragma once
#include <span>
#include <string>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/dish/depth_field.h"
#include "core/dish/thin_plate.h"
#include "core/plane/grid_contours.h"
#include "core/warnings/warning.h"

namespace tearline::dish {

/// A depth with its place in the chart.
struct ChartSounding {
    Vec2 at{0, 0};       ///< [mm]
    double depth = 0.0;  ///< [mm] below the base surface
    std::string name;    ///< for messages: "damage.sounding[3]"
};

/// The cavity as it was really ground: a smooth depth field through soundings, zero on the outline
/// of the ground area and outside it, never below zero.
///
/// The surface through them bends least (thin-plate spline); it is cut off at the deepest sounding,
/// which the measuring sheet asks for. Soundings as deep as that are the floor: the surface may
/// pass above them, so that a wall meets a flat floor in a crease and does not swing round it.
/// @source  Duchon, Splines minimizing rotation-invariant semi-norms in Sobolev spaces (1977)
class SoundedDish final : public DepthField {
public:
    /// @param ground     [mm] the ground area in the chart
    /// @error bad_input  two soundings that no ground slope can join, with their names; fewer than
    ///                   five places, the others taken twice
    [[nodiscard]] static Result<SoundedDish> through(std::vector<Region2> ground,
                                                     std::vector<ChartSounding> soundings);

    [[nodiscard]] double depth(const Vec2& chart_point) const override;
    /// Deepest sounding, too [mm].
    [[nodiscard]] double deepest() const override { return deepest_; }
    [[nodiscard]] bool measured() const override { return true; }
    [[nodiscard]] const SoundedDish* soundings() const override { return this; }

    /// The depth before it is cut off at the deepest sounding and at zero [mm].
    [[nodiscard]] double before_cut(const Vec2& chart_point) const {
        return plate_.at(chart_point);
    }
    /// Its slope: the gradient of the surface before it is cut off [-].
    [[nodiscard]] Vec2 slope(const Vec2& chart_point) const { return plate_.slope(chart_point); }

    /// Where the ground is at least so deep, in the chart; parts and openings as they come.
    /// @param depth  [mm] > 0
    [[nodiscard]] std::vector<Region2> deeper_than(double depth) const;

    [[nodiscard]] const std::vector<Region2>& ground() const { return ground_; }
    /// Soundings that the others do not foretell, named.
    [[nodiscard]] const Warnings& warnings() const { return warnings_; }

    /// Soundings leave-one-out: what the others say at each, less what was read [mm].
    [[nodiscard]] const std::vector<double>& surprise() const { return surprise_; }

private:
    SoundedDish() = default;
    void name_outliers(const std::vector<ChartSounding>& soundings,
                       const std::vector<PlatePoint>& points);

    std::vector<Region2> ground_;
    ThinPlate plate_;
    double deepest_ = 0.0;
    plane::GridField field_;  ///< for the levels
    std::vector<double> surprise_;
    Warnings warnings_;
};

/// The dish sampled over the ground area and `margin` [mm] round it.
[[nodiscard]] plane::GridField sampled(const SoundedDish& dish, double margin);

/// The shallowest dish that is as deep everywhere and nowhere steeper than 1 in `ratio`, less the
/// dish: how much must still be ground off [mm].
/// @source  |gradient| = 1/ratio outward from the field, fast sweeping (Zhao 2005)
[[nodiscard]] plane::GridField still_to_grind(const plane::GridField& dish, double ratio);

}  // namespace tearline::dish

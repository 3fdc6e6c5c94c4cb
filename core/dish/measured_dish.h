#pragma once
#include <utility>
#include <vector>

#include "core/base/outline.h"
#include "core/dish/depth_field.h"
#include "core/plane/grid_contours.h"
#include "core/warnings/warning.h"

namespace tearline::dish {

/// The cavity as it was really ground: a smooth field of depths, zero outside the ground area,
/// never below zero, and cut off at its deepest place.
class MeasuredDish : public DepthField {
public:
    [[nodiscard]] double depth(const Vec2& chart_point) const final;
    [[nodiscard]] double deepest() const final { return deepest_; }
    [[nodiscard]] bool measured() const final { return true; }

    /// The depth before it is cut off at the deepest place and at zero [mm].
    [[nodiscard]] virtual double before_cut(const Vec2& chart_point) const = 0;
    /// Its slope: the gradient of the surface before it is cut off [-].
    [[nodiscard]] virtual Vec2 slope(const Vec2& chart_point) const = 0;

    /// Where the ground is at least so deep, in the chart; parts and openings as they come.
    /// @param depth  [mm] > 0
    [[nodiscard]] std::vector<Region2> deeper_than(double depth) const;

    [[nodiscard]] const std::vector<Region2>& ground() const { return ground_; }
    /// Measurements that the others do not foretell, named.
    [[nodiscard]] const Warnings& warnings() const { return warnings_; }

protected:
    explicit MeasuredDish(std::vector<Region2> ground) : ground_(std::move(ground)) {}
    /// Once the field is whole: its levels are found from then on.
    void find_levels();

    std::vector<Region2> ground_;
    double deepest_ = 0.0;
    Warnings warnings_;

private:
    plane::GridField field_;  ///< for the levels
};

/// The dish sampled over the ground area and `margin` [mm] round it.
[[nodiscard]] plane::GridField sampled(const MeasuredDish& dish, double margin);

/// The shallowest dish that is as deep everywhere and nowhere steeper than 1 in `ratio`, less the
/// dish: how much must still be ground off [mm].
/// @source  |gradient| = 1/ratio outward from the field, fast sweeping (Zhao 2005)
[[nodiscard]] plane::GridField still_to_grind(const plane::GridField& dish, double ratio);

}  // namespace tearline::dish

#pragma once
#include <vector>

#include "core/base/vec.h"

namespace tearline::surface {

/// What of space a repair may touch, before anything is known of distances along the surface.
///
/// A fan of triangles over the picked points (or the centre alone) and everything within a reach
/// of it: distances through space are never longer than along the surface.
class Neighbourhood {
public:
    /// @param seeds  [mm] at least one point; three or more are a closed outline in order
    /// @param reach  [mm] along the surface, beyond the fan
    Neighbourhood(const std::vector<Vec3>& seeds, double reach);

    /// Distance of a point from the fan [mm].
    [[nodiscard]] double distance(const Vec3& point) const;

    /// Points all over the fan, no farther apart than `spacing` [mm].
    [[nodiscard]] std::vector<Vec3> samples(double spacing) const;

    /// How far from the fan the surface must be kept [mm]; the bulge of a curved damage allowed for.
    [[nodiscard]] double reach() const { return reach_; }

private:
    std::vector<Vec3> rim_;
    Vec3 middle_{0, 0, 0};
    double reach_ = 0.0;
};

}  // namespace tearline::surface

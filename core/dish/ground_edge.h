#pragma once
#include <span>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/scan/fair_field.h"

namespace tearline::dish {

/// The edge of a ground area as a scan of it shows it, star-shaped about a centre.
struct GroundEdge {
    std::vector<double> radius;      ///< [mm] from the centre, in equal turns from the x axis on
    double spread = 0.0;             ///< [mm] by which sectors scatter about it
    double least = 0.0, most = 0.0;  ///< [mm] of the radii

    /// The edge as points round the centre.
    [[nodiscard]] Loop2 round(const Vec2& centre) const;
};

/// Fits a ramp to the scarf in every sector, where it is a quarter to three quarters as deep as
/// the centre, and takes the edge for where the ramp comes out at the old surface: a
/// threshold would lie short of it by the noise, times the ratio.
///
/// @param depths  of points in the chart, in the ground area and about it
/// @param noise   [mm] spread of the depths
/// @param reach   [mm] how far from the centre is looked
/// @error bad_input  no floor about the centre, or no clear edge round it
[[nodiscard]] Result<GroundEdge> ground_edge(std::span<const scan::FieldPoint> depths,
                                             const Vec2& centre, double noise, double reach);

}  // namespace tearline::dish

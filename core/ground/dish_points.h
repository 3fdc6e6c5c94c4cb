#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/ground/ground.h"
#include "core/hull/hull.h"
#include "core/scan/fair_field.h"
#include "core/scan/noise.h"

namespace tearline::ground {

/// A scan of the dish laid on the old surface.
struct LaidPoints {
    std::vector<scan::FieldPoint> depths;  ///< in the chart; height: depth below the old surface
    scan::Noise noise;                     ///< as its own sound skin shows it, its kind's at least
    Warnings warnings;                     ///< how well it came to lie
};

/// Depths of a dish scan's points below the old surface.
///
/// A scan in coordinates of its own is laid on the hull by their marks, then by the sound skin
/// outside the ground area.
/// @param ground  with patch, outline and frame
/// @param area    that is ground off, in the chart
/// @param spacings  of the scan, side of the cubes whose points are taken for one; wider where the
///                  scan is large
/// @error bad_input  marks that do not fit each other, or a scan that does not lie on the hull
[[nodiscard]] Result<LaidPoints> lay_points(const hull::DishPoints& scan, const job::Job& job,
                                            const Ground& ground, const std::vector<Region2>& area,
                                            double spacings = 2.0);

}  // namespace tearline::ground

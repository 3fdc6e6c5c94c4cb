#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// One direction of a polar table.
struct PolarRow {
    double angle_degrees = 0.0;    ///< counter-clockwise from the flat frame's x axis
    std::vector<double> radii_mm;  ///< from the pole to each crossing, nearest first
    bool corner = false;           ///< a corner of the outline instead of a whole step
};

/// An outline by distances from a pole, so that it can be drawn with a tape and a protractor.
///
/// @param region  [mm] flat
/// @param pole    [mm] the datum
/// @return  a row each 15 degrees, and one for each corner that turns by 20 degrees or more, in
///          order of angle
[[nodiscard]] std::vector<PolarRow> polar_table(const Region2& region, const Vec2& pole);

}  // namespace tearline::plane

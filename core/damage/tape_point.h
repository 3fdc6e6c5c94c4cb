#pragma once
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/surface/patch.h"
#include "core/warnings/warning.h"

namespace tearline::damage {

/// A tape laid on the hull from a mark.
struct TapeLine {
    std::string mark;        ///< its name
    surface::Location from;  ///< the mark
    double length = 0.0;     ///< [mm]
};

/// Where tapes meet on the hull.
struct TapedPlace {
    surface::Location at;
    Vec3 position{0, 0, 0};  ///< [mm]
    Warnings warnings;       ///< tapes that meet so flat that a small error moves the place far
};

/// The place at given geodesic distances from two marks or more.
///
/// Two have two answers: the one that lies towards `side` of the line between the marks is taken.
/// More are met as nearly as they can be.
/// @param side  direction in space; unused with three lines or more
/// @param path  of the point in the job file, for messages
/// @error bad_input  distances that cannot meet, with the shortfall; a side that does not tell the
///                   two answers apart; a place off the hull
[[nodiscard]] Result<TapedPlace> tape_point(const surface::Patch& patch,
                                            const std::vector<TapeLine>& lines, const Vec3& side,
                                            const std::string& path);

/// The place of the patch whose x and y are given: below or above them along z.
/// @error bad_input  off the patch
[[nodiscard]] Result<TapedPlace> below_plane(const surface::Patch& patch, const Vec2& xy,
                                             const std::string& path);

}  // namespace tearline::damage

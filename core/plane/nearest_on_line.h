#pragma once
#include <limits>
#include <span>
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// A place on a line.
struct OnLine {
    std::size_t segment = 0;  ///< that starts at the point of this number
    Vec2 at{0, 0};            ///< [mm]
    double distance = std::numeric_limits<double>::infinity();  ///< [mm] from what was asked for
};

/// The place of a closed curve nearest to a point, the first of several.
[[nodiscard]] OnLine nearest_on_loop(const Loop2& loop, const Vec2& p);

/// How far a point lies from a closed curve [mm]; infinite from one without points.
[[nodiscard]] double distance_to_loop(const Loop2& loop, const Vec2& p);

/// How far a point lies from the edges of a region, inside or outside [mm].
[[nodiscard]] double distance_to_edge(const Region2& region, const Vec2& p);

/// How far a point lies from an open line, or the nearest of several [mm]; infinite from none.
[[nodiscard]] double distance_to_line(std::span<const Vec2> line, const Vec2& p);
[[nodiscard]] double distance_to_lines(const std::vector<std::vector<Vec2>>& lines, const Vec2& p);

}  // namespace tearline::plane

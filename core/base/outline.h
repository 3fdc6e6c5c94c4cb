#pragma once
#include <vector>

#include "core/base/vec.h"

namespace tearline {

/// Closed plane curve without a repeated last point.
using Loop2 = std::vector<Vec2>;

/// Closed space curve without a repeated last point.
using Loop3 = std::vector<Vec3>;

/// A plane region: outer loop counter-clockwise, holes clockwise.
struct Region2 {
    Loop2 outer;
    std::vector<Loop2> holes;
};

/// A region of a surface by its edges, seen from the laying side: outer loop counter-clockwise.
struct Region3 {
    Loop3 outer;
    std::vector<Loop3> holes;
};

/// Signed area inside a loop by the shoelace formula [mm2], positive when counter-clockwise.
double signed_area(const Loop2& loop);

/// Area of a region, holes taken off [mm2].
double area(const Region2& region);

/// Length of a closed loop [mm].
double perimeter(const Loop2& loop);
double perimeter(const Loop3& loop);

/// Whether the point is inside the loop (even-odd rule).
bool contains(const Loop2& loop, const Vec2& point);
bool contains(const Region2& region, const Vec2& point);

/// Convex hull, counter-clockwise.
Loop2 convex_hull(Loop2 points);

/// How far points spread along a unit vector [mm].
double breadth_along(const Loop2& points, const Vec2& way);

/// The least breadth of a shape and the turn that lays it along x.
struct Breadth {
    double width = 0.0;         ///< [mm]
    double turn_degrees = 0.0;  ///< [deg] counter-clockwise, 0 <= turn < 180
};
/// @source  the narrowest strip about a convex polygon touches one of its sides with a whole edge
Breadth least_breadth(const Loop2& points);

}  // namespace tearline

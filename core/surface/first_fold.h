#pragma once
#include <cmath>
#include <limits>

#include "core/base/vec.h"

namespace tearline::surface {

/// How much of a step may be taken before a flat triangle loses its area; infinite where it never
/// does.
///
/// @param e, f    two sides of the triangle, turning to the left
/// @param de, df  what the whole step adds to them
inline double first_fold(const Vec2& e, const Vec2& f, const Vec2& de, const Vec2& df) {
    const double a = cross2(de, df);
    const double b = cross2(e, df) + cross2(de, f);
    const double c = cross2(e, f);
    // Smallest positive root of a s^2 + b s + c, c > 0, in the form without cancellation.
    double first = std::numeric_limits<double>::infinity();
    const double root = b * b - 4.0 * a * c;
    if (root < 0.0) return first;
    const double q = -0.5 * (b + std::copysign(std::sqrt(root), b));
    for (const double s : {q != 0.0 ? c / q : -1.0, a != 0.0 ? q / a : -1.0})
        if (s > 0.0 && s < first) first = s;
    return first;
}

}  // namespace tearline::surface

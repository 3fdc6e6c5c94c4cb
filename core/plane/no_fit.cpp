#include "core/plane/no_fit.h"

#include <algorithm>

#include "core/plane/boolean.h"
#include "core/plane/convex_parts.h"
#include "core/plane/offset_region.h"
#include "core/plane/thin_line.h"
#include "core/plane/tolerances.h"

namespace tearline::plane {

namespace {

/// Starts a convex loop at its lowest point, the leftmost of those.
void start_low(Loop2& loop) {
    const auto low = std::min_element(loop.begin(), loop.end(), [](const Vec2& a, const Vec2& b) {
        return a.y() != b.y() ? a.y() < b.y() : a.x() < b.x();
    });
    std::rotate(loop.begin(), low, loop.end());
}

/// Minkowski sum of convex loops: their edges merged by direction.
Loop2 convex_sum(Loop2 a, Loop2 b) {
    start_low(a);
    start_low(b);
    Loop2 sum;
    std::size_t i = 0, j = 0;
    while (i < a.size() || j < b.size()) {
        sum.push_back(a[i % a.size()] + b[j % b.size()]);
        const Vec2 edge_a = a[(i + 1) % a.size()] - a[i % a.size()];
        const Vec2 edge_b = b[(j + 1) % b.size()] - b[j % b.size()];
        const double turn = cross2(edge_a, edge_b);
        const bool take_a = j >= b.size() || (i < a.size() && turn >= 0.0);
        const bool take_b = i >= a.size() || (j < b.size() && turn <= 0.0);
        i += take_a ? 1 : 0;
        j += take_b ? 1 : 0;
    }
    return sum;
}

/// An outline outside the shape by the margin, up to twice as coarse as it is told.
Loop2 coarse_outline(const Loop2& outline, double margin, double coarseness) {
    const auto wide = offset_region({outline, {}}, margin + coarseness);
    const auto largest =
        std::max_element(wide.begin(), wide.end(), [](const Region2& a, const Region2& b) {
            return signed_area(a.outer) < signed_area(b.outer);
        });
    return largest == wide.end() ? outline : thinned(largest->outer, coarseness);
}

}  // namespace

Loop2 guarded(const Loop2& outline, double margin) {
    const Loop2 fine = coarse_outline(outline, margin, tolerance::nest_coarseness);
    const Loop2 hull = convex_hull(fine);
    // No-fit polygons of hollow shapes cost the product of their points, those of convex ones the
    // sum.
    constexpr double worth_a_hollow = 0.90;
    if (signed_area(fine) > worth_a_hollow * signed_area(hull)) return hull;
    return coarse_outline(outline, margin, tolerance::nest_hollow_coarseness);
}

std::vector<Loop2> no_fit(const Loop2& fixed, const Loop2& moving) {
    Loop2 turned;
    for (const Vec2& p : moving) turned.push_back(-p);
    if (is_convex(fixed) && is_convex(turned)) return {convex_sum(fixed, turned)};
    // The sum of two unions is the union of their parts' sums, and those of convex parts are cheap.
    std::vector<Loop2> sums;
    const std::vector<Loop2> others = convex_parts(turned);
    for (const Loop2& part : convex_parts(fixed))
        for (const Loop2& other : others) sums.push_back(convex_sum(part, other));
    return combined(Boolean::unite, sums, {});
}

std::vector<Vec2> free_corners(const Vec2& low, const Vec2& high,
                               const std::vector<Loop2>& forbidden) {
    // A strip that is just as wide as the shape leaves a line to slide along; clipping wants an
    // area.
    const double least = tolerance::clipper_grid * 10.0;
    const Vec2 top = high.cwiseMax(low + Vec2(least, least));
    const Loop2 box{low, {top.x(), low.y()}, top, {low.x(), top.y()}};
    std::vector<Vec2> corners;
    for (const Loop2& loop : combined(Boolean::subtract, {box}, forbidden))
        for (const Vec2& p : loop) corners.push_back(p.cwiseMin(high).cwiseMax(low));
    return corners;
}

}  // namespace tearline::plane

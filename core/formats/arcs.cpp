#include "core/formats/arcs.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "core/base/tolerances.h"
#include "core/formats/tolerances.h"

namespace tearline::formats {

namespace {

constexpr std::size_t least_points = 4;  ///< fewer on a circle are no arc to speak of

double turn_at(const Vec2& before, const Vec2& at, const Vec2& after) {
    const Vec2 in = at - before, out = after - at;
    return std::atan2(cross2(in, out), in.dot(out));
}

/// Tangent of a quarter of the angle of the arc from a over b to c.
double bulge_over(const Vec2& a, const Vec2& b, const Vec2& c) {
    // The angle at b stands on the rest of the circle: what is missing to a half turn is half the
    // arc.
    const double half = turn_at(a, b, c);
    return std::tan(0.5 * half);
}

struct Circle {
    Vec2 centre;
    double radius;
};

std::optional<Circle> circle_of(const Vec2& a, const Vec2& c, double bulge) {
    const Vec2 chord = c - a;
    if (!(std::abs(bulge) > 0.0) || !(chord.norm() > 0.0)) return std::nullopt;
    // Sagitta s = bulge x half the chord; the centre lies on the chord's middle perpendicular.
    const double half = 0.5 * chord.norm(), sagitta = bulge * half;
    const double radius = (half * half + sagitta * sagitta) / (2.0 * std::abs(sagitta));
    const Vec2 left = turned_left(chord).normalized();
    const double away = (half * half - sagitta * sagitta) / (2.0 * sagitta);
    return Circle{0.5 * (a + c) + away * left, radius};
}

/// Whether the points from first to last lie on one arc less than a half turn long.
std::optional<double> arc_through(const Loop2& points, std::size_t first, std::size_t last,
                                  double error) {
    const auto at = [&](std::size_t i) -> const Vec2& { return points[i % points.size()]; };
    const double bulge = bulge_over(at(first), at((first + last) / 2), at(last));
    const auto circle = circle_of(at(first), at(last), bulge);
    if (!circle || !(std::abs(bulge) < tolerance::arc_bulge)) return std::nullopt;
    for (std::size_t i = first; i <= last; ++i)
        if (std::abs((at(i) - circle->centre).norm() - circle->radius) > error) return std::nullopt;
    // Its chords must be as fine as the line's everywhere: no straight side becomes an arc.
    for (std::size_t i = first; i < last; ++i) {
        const double half = 0.5 * (at(i + 1) - at(i)).norm();
        if (half > circle->radius ||
            circle->radius - std::sqrt(circle->radius * circle->radius - half * half) >
                2.0 * std::max(error, tolerance::outline_thinning))
            return std::nullopt;
    }
    return bulge;
}

bool is_corner(const Loop2& points, std::size_t i) {
    const std::size_t n = points.size();
    return std::abs(turn_at(points[(i + n - 1) % n], points[i % n], points[(i + 1) % n])) >
           tolerance::outline_corner;
}

}  // namespace

std::vector<BulgedPoint> with_arcs(const Loop2& loop, double error) {
    std::vector<BulgedPoint> out;
    const std::size_t count = loop.size();
    for (std::size_t at = 0; at < count;) {
        std::size_t last = at + 1;
        double bulge = 0.0;
        for (std::size_t next = at + 2; next <= count; ++next) {
            if (is_corner(loop, next - 1)) break;
            if (next - at + 1 < least_points) continue;
            const auto found = arc_through(loop, at, next, error);
            if (!found) break;
            bulge = *found, last = next;
        }
        out.push_back({loop[at], bulge});
        at = last;
    }
    return out;
}

}  // namespace tearline::formats

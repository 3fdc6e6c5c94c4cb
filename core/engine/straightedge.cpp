#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/base/numbers.h"
#include "core/engine/sounded_ground.h"
#include "core/surface/locate_near.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::engine {

namespace {

/// A place of the old surface: along the straightedge and above the place sounded [mm].
struct OldPlace {
    Vec2 profile{0, 0};
    Vec3 at{0, 0, 0};
};

/// The old surface on one side of the place.
std::vector<OldPlace> old_surface(const surface::Patch& patch, const std::vector<Region2>& ground,
                                  const surface::Location& at, const Vec3& way, double half) {
    constexpr int steps = 200;
    std::vector<double> distances;
    for (int i = 1; i <= steps; ++i) distances.push_back(half * i / steps);
    const auto sample = patch.sample(at);
    const Vec3 along = (way - way.dot(sample.normal) * sample.normal).normalized();
    const auto ground_off = [&](const Vec2& chart) {
        return std::any_of(ground.begin(), ground.end(),
                           [&](const Region2& region) { return contains(region, chart); });
    };
    std::vector<OldPlace> profile;
    const auto add = [&](const surface::Location& on) {
        const Vec3 place = patch.sample(on).position;
        const Vec3 off = place - sample.position;
        profile.push_back({{off.dot(along), off.dot(sample.normal)}, place});
    };
    Vec2 before = patch.chart_point(at);
    for (const auto& on : surface::trace_geodesic(patch, {at, way}, distances).at) {
        const Vec2 chart = patch.chart_point(on);
        if (ground_off(before) != ground_off(chart)) {
            // The edge itself: on a bulge the straightedge rests there.
            Vec2 in = ground_off(before) ? before : chart,
                 out = ground_off(before) ? chart : before;
            constexpr int halvings = 20;
            for (int i = 0; i < halvings; ++i) {
                const Vec2 middle = 0.5 * (in + out);
                (ground_off(middle) ? in : out) = middle;
            }
            add(surface::locate_near(patch, out).at);
        }
        before = chart;
        if (!ground_off(chart)) add(on);
    }
    return profile;
}

}  // namespace

Result<StraightedgeRest> straightedge_rest(const surface::Patch& patch,
                                           const std::vector<Region2>& ground,
                                           const surface::Location& at, const Vec3& direction,
                                           double length) {
    const auto ahead = old_surface(patch, ground, at, direction, 0.5 * length);
    const auto behind = old_surface(patch, ground, at, -direction, 0.5 * length);
    if (ahead.empty() || behind.empty())
        return bad_input("the straightedge of " + fixed(length, 0) +
                         " mm does not reach over the ground area on both sides; use a longer one");
    // It rests where it stands highest over the place: on one point to each side.
    double highest = -std::numeric_limits<double>::infinity();
    StraightedgeRest rest;
    for (const OldPlace& a : ahead)
        for (const OldPlace& b : behind) {
            const Vec2 &p = a.profile, &q = b.profile;
            const double height = (p.y() * q.x() + q.y() * p.x()) / (p.x() + q.x());
            if (!(height > highest)) continue;
            highest = height;
            rest = {-height, a.at, b.at, q.x() / (p.x() + q.x())};
        }
    return rest;
}

Result<double> straightedge_correction(const surface::Patch& patch,
                                       const std::vector<Region2>& ground,
                                       const surface::Location& at, const Vec3& direction,
                                       double length) {
    const auto rest = straightedge_rest(patch, ground, at, direction, length);
    if (!rest) return tl::unexpected(rest.error());
    return rest->correction;
}

Vec3 straightedge_way(const Ground& ground, const surface::Location& at, double degrees) {
    const Vec3 n = ground.patch.sample(at).normal;
    const Vec3 x = (ground.frame.x - ground.frame.x.dot(n) * n).normalized();
    const double angle = degrees * std::numbers::pi / 180.0;
    return std::cos(angle) * x + std::sin(angle) * n.cross(x);
}

}  // namespace tearline::engine

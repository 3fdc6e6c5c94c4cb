#include "core/plane/polar_table.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tearline::plane {

namespace {

constexpr double degree = std::numbers::pi / 180.0;
constexpr double step_degrees = 15.0;
constexpr double corner_degrees = 20.0;

/// Distances at which the ray meets the loop; a vertex on the ray counts for one of its edges only.
void add_crossings(const Loop2& loop, const Vec2& pole, const Vec2& ray, std::vector<double>& out) {
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const Vec2 a = loop[j] - pole, b = loop[i] - pole;
        const double side_a = cross2(ray, a), side_b = cross2(ray, b);
        if ((side_a > 0.0) == (side_b > 0.0)) continue;
        const double at = (side_a * ray.dot(b) - side_b * ray.dot(a)) / (side_a - side_b);
        if (at > 0.0) out.push_back(at);
    }
}

void add_corners(const Loop2& loop, const Vec2& pole, std::vector<PolarRow>& rows) {
    const std::size_t count = loop.size();
    for (std::size_t i = 0; i < count; ++i) {
        const Vec2 in = loop[i] - loop[(i + count - 1) % count];
        const Vec2 out = loop[(i + 1) % count] - loop[i];
        if (std::abs(std::atan2(cross2(in, out), in.dot(out))) < corner_degrees * degree) continue;
        const Vec2 arm = loop[i] - pole;
        double angle = std::atan2(arm.y(), arm.x()) / degree;
        if (angle < 0.0) angle += 360.0;
        rows.push_back({angle, {arm.norm()}, true});
    }
}

}  // namespace

std::vector<PolarRow> polar_table(const Region2& region, const Vec2& pole) {
    std::vector<PolarRow> rows;
    for (int k = 0; k * step_degrees < 360.0; ++k) {
        PolarRow row{k * step_degrees, {}, false};
        const double angle = row.angle_degrees * degree;
        const Vec2 ray(std::cos(angle), std::sin(angle));
        add_crossings(region.outer, pole, ray, row.radii_mm);
        for (const Loop2& hole : region.holes) add_crossings(hole, pole, ray, row.radii_mm);
        std::sort(row.radii_mm.begin(), row.radii_mm.end());
        rows.push_back(std::move(row));
    }
    add_corners(region.outer, pole, rows);
    for (const Loop2& hole : region.holes) add_corners(hole, pole, rows);
    std::stable_sort(rows.begin(), rows.end(), [](const PolarRow& a, const PolarRow& b) {
        return a.angle_degrees < b.angle_degrees;
    });
    return rows;
}

}  // namespace tearline::plane

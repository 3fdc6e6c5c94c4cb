#include <gtest/gtest.h>

#include "core/dish/offset_distance.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"

namespace tearline::dish {
namespace {

using std::numbers::pi;

/// Six plane sectors about a point, edges rising by `rise[k]` a unit: a corner where six creases
/// meet. Each sector of the chart, 60 degrees wide, is mapped linearly to its plane.
struct Corner {
    std::array<Vec3, 6> edge;
    std::array<double, 7> angle{};  ///< [rad] sum of the sectors' true angles before each edge
    surface::Patch patch;

    Corner(const std::array<double, 6>& rise, double radius, double spacing) {
        for (std::size_t k = 0; k < 6; ++k) {
            const double c = std::sqrt(1 - rise[k] * rise[k]), a = chart_angle(k);
            edge[k] = {c * std::cos(a), c * std::sin(a), rise[k]};
        }
        for (std::size_t k = 0; k < 6; ++k)
            angle[k + 1] = angle[k] + std::acos(edge[k].dot(edge[(k + 1) % 6]));
        patch = test::analytic_patch(
            [this](const Vec2& p, int) {
                const auto [k, u, v] = parts(p);
                return surface::SurfaceSample{u * edge[k] + v * edge[(k + 1) % 6],
                                              edge[k].cross(edge[(k + 1) % 6]).normalized(), 0, 0};
            },
            test::within_disc(radius), radius, spacing);
        // Flat facets: their own normals, lengths that are chords, creases on the six edges.
        for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
            const auto& v = patch.mesh.triangle[t];
            const auto& p = patch.mesh.position;
            patch.mesh.corner_normal[t].fill(
                (p[v[1]] - p[v[0]]).cross(p[v[2]] - p[v[0]]).normalized());
        }
        set_arc_lengths(patch.mesh);
        finish_patch(patch);
    }

    static double chart_angle(std::size_t k) { return pi / 6 + pi / 3 * static_cast<double>(k); }

    struct Parts {
        std::size_t sector;
        double u, v;
    };
    [[nodiscard]] static Parts parts(const Vec2& p) {
        const double a = std::fmod(std::atan2(p.y(), p.x()) - pi / 6 + 4 * pi, 2 * pi);
        const auto k = std::min<std::size_t>(5, static_cast<std::size_t>(a / (pi / 3)));
        const Vec2 e(std::cos(chart_angle(k)), std::sin(chart_angle(k)));
        const Vec2 f(std::cos(chart_angle(k + 1)), std::sin(chart_angle(k + 1)));
        const double den = cross2(e, f);
        return {k, cross2(p, f) / den, cross2(e, p) / den};
    }

    struct Polar {
        double r, angle;
    };
    /// Distance from the corner and true angle about it.
    [[nodiscard]] Polar polar(const Vec2& p) const {
        const auto [k, u, v] = parts(p);
        const Vec3 q = u * edge[k] + v * edge[(k + 1) % 6];
        return {q.norm(), angle[k] + std::acos(std::clamp(q.normalized().dot(edge[k]), -1.0, 1.0))};
    }
    /// Geodesic distance on the unfolded cone: straight, or through the corner.
    [[nodiscard]] double distance(const Vec2& p, const Vec2& q) const {
        const Polar a = polar(p), b = polar(q);
        const double whole = angle[6];
        double turn = std::abs(a.angle - b.angle);
        turn = std::min(turn, whole - turn);
        if (turn >= pi) return a.r + b.r;
        return std::sqrt(a.r * a.r + b.r * b.r - 2 * a.r * b.r * std::cos(turn));
    }
};

/// [mm] Bar of net lines (DEFINITIONS.md). The corner's chart bends geodesics by up to a fifth at
/// each crease, unlike the near-isometric ones of real patches: between two stations on either side
/// of one, 8 mm apart, a lookup cuts that corner.
double bar_at(const Vec2& p) {
    constexpr double exact = 0.1, beside_a_crease = 0.3, station = 8.0;
    const double off = std::remainder(std::atan2(p.y(), p.x()) - pi / 6, pi / 3);
    return p.norm() * std::abs(std::sin(off)) > station ? exact : beside_a_crease;
}

/// A small disc, exact in its own plane: the chart of a sector is an affine image of it.
damage::DamageOutline disc_in_sector(const Corner& corner, const Vec2& centre, double radius) {
    const auto [k, u, v] = Corner::parts(centre);
    const Vec3 e = corner.edge[k], f = corner.edge[(k + 1) % 6];
    const Vec3 n = e.cross(f).normalized(), g = n.cross(e);
    const Vec2 ce(std::cos(Corner::chart_angle(k)), std::sin(Corner::chart_angle(k)));
    const Vec2 cf(std::cos(Corner::chart_angle(k + 1)), std::sin(Corner::chart_angle(k + 1)));
    return test::chart_outline(corner.patch, {[=](double t) -> Vec2 {
                                   const double a = 2 * pi * t;
                                   // In the plane: x along e, y along g; f = (f.e, f.g).
                                   const double x = radius * std::cos(a), y = radius * std::sin(a);
                                   const double along_f = y / f.dot(g);
                                   return centre + (x - along_f * f.dot(e)) * ce + along_f * cf;
                               }},
                               90);
}

TEST(OffsetSweep, FansOutBehindASaddleCorner) {
    // Edges rise and fall in turn: 412 degrees about the corner. Behind it a sector of 52 degrees
    // is reached through the corner alone (derived: unfold the sectors).
    const Corner corner({0.3, -0.3, 0.3, -0.3, 0.3, -0.3}, 260, 7);
    ASSERT_GT(corner.angle[6], 2 * pi + 0.8);
    const Vec2 centre(43.0, 67.0);
    const double radius = 25.0;
    const auto outline = disc_in_sector(corner, centre, radius);
    const std::vector<double> offsets{60.0, 150.0};
    const OffsetSweep sweep = sweep_offsets(corner.patch, outline, offsets);
    const OffsetDistance distance(sweep);
    // Where nothing is curved inward every geodesic is a shortest one.
    for (const SweptRay& ray : sweep.fronts.front().rays)
        if (!ray.left_patch) {
            EXPECT_NEAR(corner.distance(centre, ray.end) - radius, 150.0, 0.02)
                << ray.end.transpose();
        }
    int through = 0;
    for (double x = -100; x <= 100; x += 9.7)
        for (double y = -70; y <= 190; y += 8.9) {
            const Vec2 p(x, y);
            const double exact = corner.distance(centre, p) - radius;
            if (exact < 1.0 || exact > 145.0) continue;
            EXPECT_NEAR(distance.at(p), exact, bar_at(p)) << p.transpose();
            if (exact + radius > corner.polar(centre).r + corner.polar(p).r - 1e-9) ++through;
        }
    EXPECT_GT(through, 20);
}

TEST(OffsetSweep, TakesTheNearerWayRoundAConvexCorner) {
    // All edges fall: less than 360 degrees about the corner, so two fronts meet behind it.
    const Corner corner({-0.4, -0.4, -0.4, -0.4, -0.4, -0.4}, 260, 7);
    ASSERT_LT(corner.angle[6], 2 * pi - 0.2);
    const Vec2 centre(43.0, 67.0);
    const auto outline = disc_in_sector(corner, centre, 25.0);
    const std::vector<double> offsets{60.0, 140.0};
    const OffsetDistance distance(sweep_offsets(corner.patch, outline, offsets));
    int count = 0;
    for (double x = -100; x <= 100; x += 9.7)
        for (double y = -70; y <= 190; y += 8.9) {
            const Vec2 p(x, y);
            const double exact = corner.distance(centre, p) - 25.0;
            if (exact < 1.0 || exact > 135.0) continue;
            EXPECT_NEAR(distance.at(p), exact, bar_at(p)) << p.transpose();
            ++count;
        }
    EXPECT_GT(count, 200);
}

}  // namespace
}  // namespace tearline::dish

// Plane wedges under random outlines, depths and meshes: what is left of each sheet is what lies
// beyond the strip d tan(f/2), so areas are known by clipping; an opened crease adds d f a length.
#include <gtest/gtest.h>

#include <numbers>
#include <random>

#include "core/surface/mesh_parts.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/mesh_checks.h"
#include "tests/support/unroll.h"
#include "tests/unit/parallel/at_depth.h"

namespace tearline::surface::parallel_wedge_test {
namespace {

/// Area of the part of a chart triangle where side * x >= width, by clipping the polygon.
double area_beyond(std::array<Vec2, 3> corner, double side, double width) {
    Loop2 kept;
    for (int i = 0; i < 3; ++i) {
        const Vec2& a = corner[i];
        const Vec2& b = corner[(i + 1) % 3];
        const double fa = side * a.x() - width;
        const double fb = side * b.x() - width;
        if (fa >= 0) kept.push_back(a);
        if ((fa > 0 && fb < 0) || (fa < 0 && fb > 0)) kept.push_back(a + fa / (fa - fb) * (b - a));
    }
    return kept.size() < 3 ? 0.0 : signed_area(kept);
}

double kept_area(const Patch& patch, double width) {
    double sum = 0.0;
    for (const auto& v : patch.mesh.triangle) {
        const std::array<Vec2, 3> corner{patch.chart[v[0]], patch.chart[v[1]], patch.chart[v[2]]};
        const double middle = corner[0].x() + corner[1].x() + corner[2].x();
        sum += area_beyond(corner, middle < 0 ? -1.0 : 1.0, width);
    }
    return sum;
}

double crease_length(const Patch& patch) {
    double sum = 0.0;
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (patch.crease[t][i] && patch.neighbour[t][i] > static_cast<std::int32_t>(t))
                sum += patch.mesh.edge_length[t][i];
    return sum;
}

/// Whether the outline runs along the crease or ends beside it: then the other sheet is no part of
/// the mesh, and nothing is trimmed by it.
bool ends_beside_crease(const Patch& patch, double width) {
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (patch.crease[t][i] && patch.neighbour[t][i] < 0) return true;
    const auto beside = [&](const Vec2& p) { return std::abs(p.x()) <= width; };
    return crease_length(patch) == 0.0 &&
           std::any_of(patch.chart.begin(), patch.chart.end(), beside);
}

struct Case {
    double turn, depth, edge;
    Vec2 centre, half;
    double slant;
    [[nodiscard]] bool inside(const Vec2& p) const {
        const Vec2 r = Eigen::Rotation2Dd(slant) * (p - centre);
        return (r.array() / half.array()).matrix().squaredNorm() <= 1.0;
    }
};

std::ostream& operator<<(std::ostream& out, const Case& c) {
    return out << "turn " << c.turn << " depth " << c.depth << " edge " << c.edge << " centre "
               << c.centre.transpose() << " half axes " << c.half.transpose() << " slant "
               << c.slant;
}

Case random_case(std::mt19937& random) {
    const auto in = [&](double a, double b) {
        return std::uniform_real_distribution<double>(a, b)(random);
    };
    return {in(0.02, 1.4),
            in(0.3, 9.0),
            in(2.0, 20.0),
            Vec2(in(-70, 70), in(-5, 5)),
            Vec2(in(45, 80), in(45, 80)),
            in(0, 3)};
}

TEST(ParallelWedge, KeepsWhatLiesBeyondTheStripWhateverTheOutline) {
    constexpr unsigned start = 20261;
    RecordProperty("random start value", start);
    std::mt19937 random(start);
    int crossing = 0;
    for (int k = 0; k < 300; ++k) {
        const Case c = random_case(random);
        const auto patch = test::analytic_patch(
            test::wedge_map(c.turn), [&](const Vec2& p) { return c.inside(p); }, 160, c.edge, true);
        if (patch.mesh.triangle.size() < 12) continue;
        if (ends_beside_crease(patch, c.depth * std::tan(0.5 * c.turn))) continue;
        if (count_parts(patch.mesh) > 1) continue;
        const auto s = parallel::at_depth(patch, parallel::constant(c.depth));
        ASSERT_TRUE(s) << c << ": " << s.error().message();
        test::expect_manifold(s->mesh);
        const double width = c.depth * std::tan(0.5 * c.turn);
        const bool trims = 2 * width > 0.02;
        if (crease_length(patch) > 0 && trims) ++crossing;
        const double expected = kept_area(patch, trims ? width : 0.0);
        // A lens narrower than the strip leaves nothing on its side; the outline's corners are
        // kept to the tolerance for joining the ends of a cut (0.02 mm over a few millimetres).
        ASSERT_NEAR(test::intrinsic_area(s->mesh), expected, 0.05 + 1e-6 * expected)
            << k << ": " << c;
        if (count_parts(s->mesh) == 1) {
            ASSERT_LT(test::unroll(s->mesh).mismatch, 1e-5) << c;
        }
    }
    EXPECT_GT(crossing, 100);
}

TEST(ParallelWedge, GainsAnArcsBandWhateverTheOutline) {
    constexpr unsigned start = 20262;
    RecordProperty("random start value", start);
    std::mt19937 random(start);
    int crossing = 0;
    for (int k = 0; k < 100; ++k) {
        const Case c = random_case(random);
        const auto patch = test::analytic_patch(
            test::wedge_map(-c.turn), [&](const Vec2& p) { return c.inside(p); }, 160, c.edge,
            true);
        if (patch.mesh.triangle.size() < 12) continue;
        if (ends_beside_crease(patch, c.depth * std::tan(0.5 * c.turn))) continue;
        if (count_parts(patch.mesh) > 1) continue;
        const auto s = parallel::at_depth(patch, parallel::constant(c.depth));
        ASSERT_TRUE(s) << c << ": " << s.error().message();
        test::expect_manifold(s->mesh);
        const double length = crease_length(patch);
        if (length > 0) ++crossing;
        // Small turns are mitred: at most 0.005 mm more than the arc.
        ASSERT_NEAR(test::intrinsic_area(s->mesh),
                    kept_area(patch, 0.0) + c.depth * c.turn * length, 0.005 * length + 1e-6)
            << c;
        ASSERT_LT(test::unroll(s->mesh).mismatch, 0.006) << c;
    }
    EXPECT_GT(crossing, 40);
}

}  // namespace
}  // namespace tearline::surface::parallel_wedge_test

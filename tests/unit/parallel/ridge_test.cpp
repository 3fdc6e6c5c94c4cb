#include "core/parallel/ridge.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/analytic_patch.h"
#include "tests/unit/parallel/at_depth.h"

namespace tearline::parallel::ridge_test {
namespace {

/// A map's two sheets by chart points, with derivatives by differences on the sheet's own side;
/// nothing beyond `end`.
SurfaceAtChart sheets_of(const test::AnalyticMap& map, double end = 1e9) {
    return [=](const Vec2& p) -> std::optional<SheetPoint> {
        if (std::abs(p.x()) > end || std::abs(p.y()) > end) return std::nullopt;
        const int side = p.x() < 0.0 ? -1 : 1;
        const double h = 1e-4;
        SheetPoint out;
        const auto s = map(p, side);
        out.position = s.position;
        out.normal = s.normal;
        for (int i = 0; i < 2; ++i) {
            const Vec2 step = h * Vec2::Unit(i);
            out.along.col(i) =
                (map(p + step, side).position - map(p - step, side).position) / (2 * h);
        }
        return out;
    };
}

/// Feet on both sheets beside the crease at a place along it.
RidgePoint beside(const SurfaceAtChart& at, double y) {
    RidgePoint start;
    start.left = {{-0.5, y}, *at({-0.5, y})};
    start.right = {{0.5, y}, *at({0.5, y})};
    return start;
}

Section square_at(double y) {
    return {{0.0, y, 0.0}, {0.0, 1.0, 0.0}};
}

TEST(FindRidge, OfAPlaneWedgeIsBelowItsEdge) {
    // Closed form: both offset planes meet d / cos(f/2) below the edge; feet d tan(f/2) from it.
    for (const double turn : {0.1, 0.8, 1.6, 2.4}) {
        const auto at = sheets_of(test::wedge_map(turn));
        const double d = 5.5;
        const auto ridge = find_ridge(at, constant(d), square_at(12.0), beside(at, 12.0));
        ASSERT_TRUE(ridge) << turn;
        EXPECT_LT((ridge->position - Vec3(0, 12, -d / std::cos(0.5 * turn))).norm(), 1e-6) << turn;
        EXPECT_NEAR(ridge->left.chart.x(), -d * std::tan(0.5 * turn), 1e-6);
        EXPECT_NEAR(ridge->right.chart.x(), d * std::tan(0.5 * turn), 1e-6);
        EXPECT_NEAR(ridge->left.chart.y(), 12.0, 1e-6);
    }
}

TEST(FindRidge, ReachesEachSheetsOwnDepth) {
    // By hand: depths a and b on the two sheets of a right angle (turned down 45 degrees each): the
    // lines at a and b below them meet where p . n = -depth for both normals.
    const double turn = std::numbers::pi / 2, a = 4.0, b = 7.0;
    const auto at = sheets_of(test::wedge_map(turn));
    const auto ridge = find_ridge(
        at, [=](const Vec2& p) { return p.x() < 0 ? a : b; }, square_at(0.0), beside(at, 0.0));
    ASSERT_TRUE(ridge);
    const double s = std::sqrt(0.5);
    // n = (-s, s) and (s, s): x = (a - b) / 2s, z = -(a + b) / 2s.
    EXPECT_NEAR(ridge->position.x(), (a - b) / (2 * s), 1e-6);
    EXPECT_NEAR(ridge->position.z(), -(a + b) / (2 * s), 1e-6);
}

TEST(FindRidge, IsAtDepthFromBothSheetsWhateverTheirShape) {
    // Property, by the definition: position = foot - depth x normal on both sheets, in the section.
    std::mt19937 random(909);  // fixed start value
    const auto in = [&](double a, double b) {
        return std::uniform_real_distribution<double>(a, b)(random);
    };
    for (int k = 0; k < 60; ++k) {
        const double turn = in(0.3, 1.5), left = in(-300, 300) > 0 ? in(60, 300) : -in(60, 300),
                     right = in(-1, 1) > 0 ? in(60, 300) : -in(60, 300), slope = in(-0.1, 0.1);
        const test::AnalyticMap map = [=](const Vec2& p, int side) {
            const double R = side < 0 ? left : right, start = 0.5 * turn * side;
            const double angle = start + p.x() / R;
            const Vec3 centre(-R * std::sin(start), 0.0, -R * std::cos(start));
            const Vec3 n(std::sin(angle), 0.0, std::cos(angle));
            return surface::SurfaceSample{centre + R * n + Vec3(0, p.y(), 0), n, 0.0, 0.0};
        };
        const auto at = sheets_of(map);
        const DepthAtChart depth = [=](const Vec2& p) { return 6.0 + slope * p.x(); };
        const auto ridge = find_ridge(at, depth, square_at(3.0), beside(at, 3.0));
        ASSERT_TRUE(ridge) << k;
        for (const SheetFoot* foot : {&ridge->left, &ridge->right}) {
            const Vec3 down = foot->point.position - depth(foot->chart) * foot->point.normal;
            EXPECT_LT((down - ridge->position).norm(), 1e-6) << k;
            EXPECT_LT((at(foot->chart)->position - foot->point.position).norm(), 1e-6) << k;
        }
        EXPECT_NEAR(ridge->position.y(), 3.0, 1e-9);
        EXPECT_LT(ridge->left.chart.x(), 0.0);
        EXPECT_GT(ridge->right.chart.x(), 0.0);
    }
}

TEST(FindRidge, IsNoneWhereSheetsHardlyTurn) {
    const auto flat = sheets_of(test::wedge_map(1e-6));
    EXPECT_FALSE(find_ridge(flat, constant(5.0), square_at(0.0), beside(flat, 0.0)));
}

TEST(ChartStep, IsTheChartsShareOfAStepInSpace) {
    // By hand: the chart's x runs 2 mm of space a unit along x, its y slants by (1, 1): a step
    // (5, 3, 9) is 1 x + 3 y, its part out of the plane left out.
    SheetPoint p;
    p.along << 2, 1, 0, 1, 0, 0;
    EXPECT_LT((chart_step(p, {5, 3, 9}) - Vec2(1, 3)).norm(), 1e-12);
}

TEST(MoveFoot, StaysOnItsSheet) {
    // Right of the crease a step to the right follows the surface; one back over the crease goes on
    // straight where the sheet would lie, and does not land on the other.
    const double turn = 1.2;
    const auto at = sheets_of(test::wedge_map(turn));
    const SheetFoot start{{3.0, 0.0}, *at({3.0, 0.0})};
    const Vec3 other = at({-1.0, 0.0})->normal;
    const Vec3 along = start.point.along.col(0);
    SheetFoot right = start;
    move_foot(at, right, 4.0 * along, {&other, 1});
    EXPECT_NEAR(right.chart.x(), 7.0, 1e-6);
    EXPECT_LT((right.point.position - at({7.0, 0.0})->position).norm(), 1e-6);
    SheetFoot over = start;
    move_foot(at, over, -5.0 * along, {&other, 1});
    EXPECT_NEAR(over.chart.x(), -2.0, 1e-6);
    EXPECT_LT((over.point.normal - start.point.normal).norm(), 1e-12);
    EXPECT_LT((over.point.position - (start.point.position - 5.0 * along)).norm(), 1e-12);
    EXPECT_GT((over.point.position - at({-2.0, 0.0})->position).norm(), 1.0);
}

TEST(MoveFoot, GoesOnStraightPastTheEndOfTheChart) {
    const auto at = sheets_of(test::cylinder_map(50), 20.0);
    SheetFoot foot{{18.0, 0.0}, *at({18.0, 0.0})};
    const Vec3 step = 6.0 * foot.point.along.col(0);
    const Vec3 expected = foot.point.position + step;
    move_foot(at, foot, step, {});
    EXPECT_NEAR(foot.chart.x(), 24.0, 1e-5);
    EXPECT_LT((foot.point.position - expected).norm(), 1e-12);
}

TEST(SheetAtChart, IsTheExactSurfaceWithItsTrianglesSlopes) {
    // Closed form: the rolled plane's position and normal exactly, its slopes to edge / R.
    const double R = 80.0, edge = 4.0;
    const auto patch = test::analytic_patch(test::cylinder_map(R), test::within_disc(60), 60, edge);
    const auto at = sheet_at_chart(patch);
    for (const Vec2& p : {Vec2(-41, 7), Vec2(3, -30), Vec2(50, 2)}) {
        const auto here = at(p);
        ASSERT_TRUE(here);
        const auto exact = test::cylinder_map(R)(p, 1);
        EXPECT_LT((here->position - exact.position).norm(), 1e-9);
        EXPECT_LT((here->normal - exact.normal).norm(), 1e-12);
        const Vec3 round(std::cos(p.x() / R), 0.0, -std::sin(p.x() / R));
        EXPECT_LT((here->along.col(0) - round).norm(), edge / R);
        EXPECT_LT((here->along.col(1) - Vec3(0, 1, 0)).norm(), 1e-12);
    }
    EXPECT_FALSE(at({100, 0}));
}

TEST(SheetAtChart, GivesEachSideOfACreaseItsOwnSheet) {
    const double turn = 0.8;
    const auto patch =
        test::analytic_patch(test::wedge_map(turn), test::within_box(30, 30), 40, 6.0, true);
    const auto at = sheet_at_chart(patch);
    for (const double x : {-1e-6, 1e-6}) {
        const auto here = at({x, 2.0});
        ASSERT_TRUE(here);
        const double a = x < 0 ? -0.4 : 0.4;
        EXPECT_LT((here->normal - Vec3(std::sin(a), 0, std::cos(a))).norm(), 1e-12);
        EXPECT_LT((here->along.col(0) - Vec3(std::cos(a), 0, -std::sin(a))).norm(), 1e-9);
    }
}

}  // namespace
}  // namespace tearline::parallel::ridge_test

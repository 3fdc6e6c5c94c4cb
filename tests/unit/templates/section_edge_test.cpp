#include "core/templates/section_edge.h"

#include <gtest/gtest.h>

#include "tests/support/analytic_patch.h"

namespace tearline::templates {
namespace {

using test::analytic_patch;
using test::within_box;

TEST(SectionEdge, IsTheCircleOfASphere) {
    // Closed form: a plane through the centre cuts a circle of radius R, z = sqrt(R^2 - s^2) - R.
    const double R = 400.0;
    const auto patch = analytic_patch(test::sphere_map(R), test::within_disc(200), 220, 15);
    const Vec3 axis = Vec3(1.0, 0.7, 0.0).normalized();
    const auto edge = section_edge(patch, {0, 0, 0}, {0, 0, 1}, axis);
    ASSERT_GT(edge.size(), 50u);
    EXPECT_LT(edge.front().x(), -165.0);
    EXPECT_GT(edge.back().x(), 165.0);
    for (const Vec2& point : edge)
        EXPECT_NEAR(point.y(), std::sqrt(R * R - point.x() * point.x()) - R, 1e-3);
}

TEST(SectionEdge, FollowsATightBilgeBetweenVertices) {
    // Cylinder of 40 mm radius, triangles of 10 mm; halfway between two points of the edge the
    // chord is within 0.05 mm of the circle: sagitta (10/4)^2 / (8 x 40) = 0.02 mm.
    const double R = 40.0;
    const auto patch = analytic_patch(test::cylinder_map(R), within_box(50, 60), 70, 10);
    const auto edge = section_edge(patch, {0, 0, 0}, {0, 0, 1}, {1, 0, 0});
    ASSERT_GT(edge.size(), 10u);
    for (std::size_t i = 1; i < edge.size(); ++i) {
        const Vec2 half = 0.5 * (edge[i - 1] + edge[i]);
        EXPECT_NEAR((half - Vec2(0, -R)).norm(), R, 0.05);
    }
}

TEST(SectionEdge, IsStraightAlongACylinder) {
    const auto patch = analytic_patch(test::cylinder_map(40.0), within_box(50, 60), 70, 10);
    const auto edge = section_edge(patch, {0, 0, 0}, {0, 0, 1}, {0, 1, 0});
    ASSERT_GT(edge.size(), 10u);
    for (const Vec2& point : edge) EXPECT_NEAR(point.y(), 0.0, 1e-6);
    for (std::size_t i = 1; i < edge.size(); ++i) EXPECT_GT(edge[i].x(), edge[i - 1].x());
}

TEST(SectionEdge, KeepsTheCornerOfAChine) {
    // Two planes turned down by 20 degrees each side of x = 0: heights -|s| tan 20.
    const double turn = 40.0 * std::numbers::pi / 180.0;
    const auto patch = analytic_patch(test::wedge_map(turn), within_box(80, 80), 90, 10, true);
    const auto edge = section_edge(patch, {0, 0, 0}, {0, 0, 1}, {1, 0, 0});
    ASSERT_GT(edge.size(), 10u);
    for (const Vec2& point : edge)
        EXPECT_NEAR(point.y(), -std::abs(point.x()) * std::tan(turn / 2.0), 1e-6);
}

}  // namespace
}  // namespace tearline::templates

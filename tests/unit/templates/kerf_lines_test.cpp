#include "core/templates/kerf_lines.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/loops.h"

namespace tearline::templates {
namespace {

Template rectangle(double half_x, double half_y) {
    Template outline;
    outline.net.outer = {
        {-half_x, -half_y}, {half_x, -half_y}, {half_x, half_y}, {-half_x, half_y}};
    return outline;
}

std::vector<Kerf> kerfs_of(const Template& outline) {
    std::vector<Kerf> all;
    for (const Mark& mark : outline.marks)
        if (const auto* kerf = std::get_if<Kerf>(&mark)) all.push_back(*kerf);
    return all;
}

TEST(KerfLines, AreAGridThroughTheDatum) {
    // By hand: 2 x 110 by 2 x 60 mm, pitch 25: along x at y = -50 ... 50, five of 220 mm; along y
    // at x = -100 ... 100, nine of 120 mm.
    Template outline = rectangle(110.0, 60.0);
    add_kerfs(25.0, 0.0, outline);
    int along = 0, across = 0;
    for (const Kerf& kerf : kerfs_of(outline)) {
        const Vec2 way = kerf.to - kerf.from;
        const bool flat = std::abs(way.y()) < 1e-9;
        EXPECT_NEAR(way.norm(), flat ? 220.0 : 120.0, 1e-9);
        const double off = (flat ? kerf.from.y() : kerf.from.x()) / 25.0;
        EXPECT_NEAR(off, std::round(off), 1e-9);
        ++(flat ? along : across);
    }
    EXPECT_EQ(along, 5);
    EXPECT_EQ(across, 9);
}

TEST(KerfLines, StartAtTheDatumWhereverItLies) {
    Template outline = rectangle(30.0, 30.0);
    outline.marks.push_back(Datum{{7.0, 3.0}, 5.0});
    add_kerfs(100.0, 0.0, outline);
    const auto all = kerfs_of(outline);
    ASSERT_EQ(all.size(), 2u);
    EXPECT_NEAR(all[0].from.y(), 3.0, 1e-9);
    EXPECT_NEAR(all[1].from.x(), 7.0, 1e-9);
}

TEST(KerfLines, TurnedOnADiscAreItsChords) {
    // Closed form: a chord at distance d of radius R is 2 sqrt(R^2 - d^2), whatever the turn.
    constexpr int corners = 3600;
    constexpr double radius = 100.0;
    Template outline;
    outline.net.outer = test::circle(radius, {0, 0}, corners);
    add_kerfs(40.0, 0.3, outline);
    const auto all = kerfs_of(outline);
    ASSERT_EQ(all.size(), 10u);  // -80 ... 80, both ways
    for (const Kerf& kerf : all) {
        const Vec2 way = kerf.to - kerf.from, middle = 0.5 * (kerf.from + kerf.to);
        EXPECT_NEAR(way.norm(), 2.0 * std::sqrt(radius * radius - middle.squaredNorm()), 1e-3);
    }
}

TEST(KerfLines, LieOnTheLargerFaceAndNotOverHoles) {
    // By hand: the larger face is 100 mm wide, with a hole of 20 in its middle: two of 40 mm.
    Template outline = rectangle(30.0, 30.0);
    outline.cut = rectangle(50.0, 50.0).net;
    outline.cut->holes.push_back({{-10, -10}, {-10, 10}, {10, 10}, {10, -10}});
    add_kerfs(200.0, 0.0, outline);
    const auto all = kerfs_of(outline);
    ASSERT_EQ(all.size(), 4u);
    for (const Kerf& kerf : all) EXPECT_NEAR((kerf.to - kerf.from).norm(), 40.0, 1e-9);
}

}  // namespace
}  // namespace tearline::templates

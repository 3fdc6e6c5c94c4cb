#include "core/formats/arcs.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/loops.h"

namespace tearline::formats {
namespace {

TEST(WithArcs, MakesAFewArcsOfACircle) {
    // Closed form: the arcs' angles, 4 atan of the bulge, add up to a whole turn.
    const auto points = with_arcs(test::circle(100.0), 0.005);
    EXPECT_LE(points.size(), 6u);
    double angle = 0.0;
    for (const BulgedPoint& p : points) angle += 4.0 * std::atan(p.bulge);
    EXPECT_NEAR(angle, 2.0 * std::numbers::pi, 1e-6);
}

TEST(WithArcs, KeepsTheCornersOfASquareAndItsStraightSides) {
    const Loop2 square = {{0, 0}, {100, 0}, {100, 100}, {0, 100}};
    const auto points = with_arcs(square, 0.05);
    ASSERT_EQ(points.size(), 4u);
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_EQ(points[i].at, square[i]);
        EXPECT_EQ(points[i].bulge, 0.0);
    }
}

TEST(WithArcs, RoundsTheEndsOfAStadiumAlone) {
    // Two half circles of 50 mm and two straight sides of 200 mm: bulges belong to the ends, and
    // the area with its segments is pi r^2 + 2 r x 200.
    Loop2 loop;
    for (int end = 0; end < 2; ++end)
        for (int k = 0; k <= 90; ++k) {
            const double a = std::numbers::pi * (k / 90.0 + end - 0.5);
            loop.emplace_back(50.0 * std::cos(a) + (end == 0 ? 100.0 : -100.0), 50.0 * std::sin(a));
        }
    const auto points = with_arcs(loop, 0.005);
    EXPECT_LE(points.size(), 12u);
    double area = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec2 &a = points[i].at, &b = points[(i + 1) % points.size()].at;
        area += 0.5 * cross2(a, b);
        const double sweep = 4.0 * std::atan(points[i].bulge);
        if (sweep == 0.0) continue;
        const double radius = (b - a).norm() / (2.0 * std::abs(std::sin(0.5 * sweep)));
        EXPECT_NEAR(radius, 50.0, 0.05);
        area += 0.5 * radius * radius * (sweep - std::sin(sweep));
    }
    EXPECT_NEAR(area, std::numbers::pi * 2500.0 + 20000.0, 3.0);
}

/// The points of a line with arcs, finely, as a cutter goes.
std::vector<Vec2> walked(const std::vector<BulgedPoint>& points) {
    std::vector<Vec2> out;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec2 &a = points[i].at, &b = points[(i + 1) % points.size()].at;
        const double angle = 4.0 * std::atan(points[i].bulge);
        for (int k = 0; k < 50; ++k) {
            const double t = k / 50.0;
            if (angle == 0.0) {
                out.push_back(a + t * (b - a));
                continue;
            }
            // Chord c under the angle: radius c / (2 sin(angle / 2)), centre left of the chord
            // where the bulge is positive.
            const Vec2 chord = b - a;
            const double radius = 0.5 * chord.norm() / std::sin(0.5 * angle);
            const Vec2 centre =
                0.5 * (a + b) + radius * std::cos(0.5 * angle) * turned_left(chord).normalized();
            const Vec2 arm = a - centre;
            out.push_back(centre + std::cos(t * angle) * arm +
                          std::sin(t * angle) * turned_left(arm));
        }
    }
    return out;
}

double to_loop(const Vec2& p, const Loop2& loop) {
    double least = 1e300;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 &a = loop[i], along = loop[(i + 1) % loop.size()] - loop[i];
        const double t = std::clamp((p - a).dot(along) / along.squaredNorm(), 0.0, 1.0);
        least = std::min(least, (p - a - t * along).norm());
    }
    return least;
}

TEST(WithArcs, TurnTheOtherWayOnAClockwiseLine) {
    // A bulge is positive to the left (the format's rule): a hole runs clockwise and has negative
    // ones.
    Loop2 hole = test::circle(60.0, {0, 0}, 240);
    std::reverse(hole.begin(), hole.end());
    double angle = 0.0;
    for (const BulgedPoint& p : with_arcs(hole, 0.005)) {
        EXPECT_LT(p.bulge, 0.0);
        angle += 4.0 * std::atan(p.bulge);
    }
    EXPECT_NEAR(angle, -2.0 * std::numbers::pi, 1e-6);
}

TEST(WithArcs, HaveTheBulgeOfTheirAngle) {
    // By hand: the bulge is the tangent of a quarter of the arc's angle; of every arc of a circle
    // the radius comes back from chord and bulge: c (1 + b2) / (4 b).
    const auto points = with_arcs(test::circle(100.0, {0, 0}, 720), 0.005);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double chord = (points[(i + 1) % points.size()].at - points[i].at).norm();
        const double b = points[i].bulge;
        ASSERT_GT(b, 0.0);
        EXPECT_NEAR(chord * (1.0 + b * b) / (4.0 * b), 100.0, 1e-6);
        EXPECT_LT(b, 0.4142) << "a quarter turn at most: tan(90/4 degrees)";
    }
}

TEST(WithArcs, StayOnLinesOfAnyShape) {
    // Second route: the way that a cutter goes is walked finely and never leaves the line by more
    // than the error and its chords' own height, nor the line it.
    for (int shape = 0; shape < 12; ++shape) {
        Loop2 loop;
        for (int k = 0; k < 300; ++k) {
            const double a = 2.0 * std::numbers::pi * k / 300;
            const double r = 120.0 + 20.0 * std::cos((2 + shape % 4) * a + shape) +
                             (shape > 5 ? 15.0 * std::sin(5 * a) : 0.0);
            loop.emplace_back(r * std::cos(a), 0.6 * r * std::sin(a));
        }
        for (const double error : {0.01, 0.1}) {
            const auto points = with_arcs(loop, error);
            EXPECT_LE(points.size(), loop.size());
            const std::vector<Vec2> way = walked(points);
            for (const Vec2& p : way) EXPECT_LE(to_loop(p, loop), 3.0 * error + 0.02) << shape;
            for (const Vec2& p : loop) EXPECT_LE(to_loop(p, way), error + 0.01) << shape;
        }
    }
}

TEST(WithArcs, LeaveAPolygonThatTurnsAsACornerDoes) {
    // 18 sides turn by 20 degrees each, more than a corner's 15, though their points lie on a
    // circle of 10 mm and their chords are within a tenth of it: no arc, at any corner.
    const auto points = with_arcs(test::circle(10.0, {0, 0}, 18), 0.1);
    EXPECT_EQ(points.size(), 18u);
    for (const BulgedPoint& p : points) EXPECT_EQ(p.bulge, 0.0);
    EXPECT_LT(with_arcs(test::circle(10.0, {0, 0}, 36), 0.1).size(), 10u)
        << "10 degrees each are a curve";
}

TEST(WithArcs, NeverGoRoundACorner) {
    // A circle of 50 mm with a quarter cut out: its three corners stay points of the line.
    Loop2 loop = {{0, 0}};
    for (int k = 0; k <= 135; ++k) {
        const double a = 0.5 * std::numbers::pi + 1.5 * std::numbers::pi * k / 135;
        loop.emplace_back(50.0 * std::cos(a), 50.0 * std::sin(a));
    }
    const auto points = with_arcs(loop, 0.01);
    for (const Vec2& corner : {Vec2(0, 0), Vec2(0, 50), Vec2(50, 0)}) {
        double nearest = 1e300;
        for (const BulgedPoint& p : points) nearest = std::min(nearest, (p.at - corner).norm());
        EXPECT_LT(nearest, 1e-9);
    }
    EXPECT_LT(points.size(), 12u);
}

}  // namespace
}  // namespace tearline::formats

#include "core/hull/corner_hull.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/hull/corner_shape.h"
#include "core/hull/measured_hull.h"

namespace tearline::hull {
namespace {

using std::numbers::pi;
const double quarter = 0.25 * pi;

/// A corner of 90 degrees, its bend symmetric about the way to the person.
job::HullOptions square_corner(double radius, bool convex) {
    job::HullOptions options;
    options.up = Vec3(0, 1, 0);
    job::Corner corner;
    corner.radius = radius;
    corner.angle = 90.0;
    corner.convex = convex;
    corner.flats = {{300.0, 200.0}};
    corner.length = 800.0;
    options.corner = corner;
    return options;
}

/// How far a place lies from two planes and the cylinder that they touch, by their own definitions.
double off_corner(const Vec3& p, double radius, bool convex) {
    const double side = convex ? -1.0 : 1.0;
    const double across = std::abs(p.y()), out = side * p.z();
    const double end = radius * std::sin(quarter);
    if (across <= end) return std::hypot(across, radius - out) - radius;
    // Through the end of the arc, at 45 degrees.
    const double rise = radius * (1.0 - std::cos(quarter));
    return ((across - end) - (out - rise)) * std::sin(quarter);
}

TEST(CornerHull, IsTwoPlanesAndTheCylinderThatTouchesThem) {
    for (const bool convex : {true, false}) {
        const auto hull = measured_hull(square_corner(20.0, convex), job::Side::outside);
        ASSERT_TRUE(hull) << hull.error().message();
        EXPECT_EQ(hull->report.faces, 3);
        EXPECT_TRUE(hull->by_hand);
        double low = 0.0, high = 0.0;
        for (const Vec3& p : hull->vertices) {
            EXPECT_NEAR(off_corner(p, 20.0, convex), 0.0, 1e-9);
            EXPECT_LE(std::abs(p.x()), 400.0 + 1e-9);
            low = std::min(low, p.y());
            high = std::max(high, p.y());
        }
        // Flats of 300 and 200 mm at 45 degrees beside the arc.
        const double end = 20.0 * std::sin(quarter);
        EXPECT_NEAR(low, -end - 300.0 * std::cos(quarter), 1e-9);
        EXPECT_NEAR(high, end + 200.0 * std::cos(quarter), 1e-9);
    }
}

TEST(CornerHull, FacesWhoeverMeasuresFromOutsideAndAwayFromWhoeverDoesFromInside) {
    for (const job::Side side : {job::Side::outside, job::Side::inside}) {
        auto options = square_corner(20.0, true);
        options.surface = side;
        const auto hull = measured_hull(options, side);
        ASSERT_TRUE(hull) << hull.error().message();
        for (const auto& t : hull->triangles) {
            const auto at = [&](std::size_t k) -> const Vec3& {
                return hull->vertices[static_cast<std::size_t>(t[k])];
            };
            const Vec3 normal = (at(1) - at(0)).cross(at(2) - at(0));
            EXPECT_GT((side == job::Side::outside ? 1.0 : -1.0) * normal.z(), 0.0);
        }
        for (std::int32_t f = 0; f < hull->report.faces; ++f) {
            const auto triangle = static_cast<std::size_t>(
                std::find(hull->face.begin(), hull->face.end(), FaceId(f)) - hull->face.begin());
            ASSERT_LT(triangle, hull->triangles.size());
            const FacePoint p = hull->cad->evaluate(FaceId(f), hull->corner_uv[triangle][0]);
            const double out = hull->cad->outward_sign(FaceId(f)) * p.du.cross(p.dv).z();
            EXPECT_GT((side == job::Side::outside ? 1.0 : -1.0) * out, 0.0);
        }
    }
}

TEST(CornerHull, GoesAlongAndRoundByArcs) {
    const auto hull = measured_hull(square_corner(20.0, true), job::Side::outside);
    ASSERT_TRUE(hull);
    const CornerShape& shape = *hull->by_hand->corner;
    // Half the arc, 20 x 45 degrees, ends on the plane; 100 mm on it is 100 mm straight.
    const double end = 20.0 * quarter;
    const Vec3 at_end = shape.at(50.0, end), on = shape.at(50.0, end + 100.0);
    EXPECT_NEAR(at_end.y(), 20.0 * std::sin(quarter), 1e-12);
    EXPECT_NEAR(at_end.z(), -20.0 * (1.0 - std::cos(quarter)), 1e-12);
    EXPECT_NEAR((on - at_end).norm(), 100.0, 1e-9);
    EXPECT_NEAR(on.x(), 50.0, 1e-12);
    EXPECT_TRUE(shape.holds(400.0, end + 200.0));
    EXPECT_FALSE(shape.holds(0.0, end + 200.1));
    EXPECT_FALSE(shape.holds(400.1, 0.0));
}

/// The gap under half a batten laid along the line where the bend ends, found on the surface itself
/// by halving: second route to the curvature that the surface was made with.
double gap_along(const CornerShape& shape, double round, double half) {
    constexpr double h = 1e-4;
    const Vec3 here = shape.at(0.0, round);
    const Vec3 along = (shape.at(h, round) - shape.at(-h, round)).normalized();
    const Vec3 across = (shape.at(0.0, round + h) - shape.at(0.0, round - h)).normalized();
    const Vec3 normal = along.cross(across) * (along.cross(across).z() > 0.0 ? 1.0 : -1.0);
    const Vec3 tip = here + half * along;
    // Newton's method on (along, round, gap).
    Vec3 unknown(half, round, 0.0);
    for (int step = 0; step < 30; ++step) {
        const Vec3 miss = tip - unknown.z() * normal - shape.at(unknown.x(), unknown.y());
        Eigen::Matrix3d by;
        by.col(0) =
            (shape.at(unknown.x() + h, unknown.y()) - shape.at(unknown.x() - h, unknown.y())) /
            (2 * h);
        by.col(1) =
            (shape.at(unknown.x(), unknown.y() + h) - shape.at(unknown.x(), unknown.y() - h)) /
            (2 * h);
        by.col(2) = normal;
        unknown += by.colPivHouseholderQr().solve(miss);
    }
    return unknown.z();
}

TEST(CornerHull, ALineThatBendsHasTheGapsThatWereMeasured) {
    // Over 600 mm, the deck beside the bend falling, the side bulging; and a hollow line.
    for (const auto& gaps : {std::array{12.0, 4.0}, std::array{-9.0, 0.0}, std::array{0.0, 7.0}}) {
        auto options = square_corner(20.0, true);
        options.corner->batten = 600.0;
        options.corner->gaps_along = gaps;
        const auto hull = measured_hull(options, job::Side::outside);
        ASSERT_TRUE(hull) << hull.error().message();
        const CornerShape& shape = *hull->by_hand->corner;
        for (const int side : {0, 1}) {
            // A batten goes straight on where the line bends sideways, by up to 12 mm here: laid 40 mm
            // beside the bend its tip still lies on the flat, where it sees the circle's gap to the
            // second order.
            const double round = (side == 0 ? -1.0 : 1.0) * (20.0 * quarter + 40.0);
            EXPECT_NEAR(gap_along(shape, round, 300.0), gaps[static_cast<std::size_t>(side)], 0.15)
                << gaps[0] << ", " << gaps[1];
        }
    }
}

TEST(CornerHull, OfABentLineEveryPlaceLiesOnThePlaneTheCylinderOrTheTorusBetween) {
    // The deck flat, the side below it a cylinder of 3 m: its gap under 600 mm by the circle.
    const double upright = 3000.0, radius = 20.0;
    auto options = square_corner(radius, true);
    options.corner->batten = 600.0;
    options.corner->gaps_along = {{upright - std::sqrt(upright * upright - 300.0 * 300.0), 0.0}};
    const auto hull = measured_hull(options, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    const Vec3 deck(0, std::sin(quarter), std::cos(quarter)),
        side(0, -std::sin(quarter), std::cos(quarter));
    const Vec3 deck_end(0, radius * std::sin(quarter), -radius * (1.0 - std::cos(quarter)));
    const Vec3 side_end(0, -deck_end.y(), deck_end.z());
    const Vec3 foot = side_end - upright * side;  // of the axis, which runs along the deck's normal
    std::array<int, 3> seen{};
    for (const Vec3& p : hull->vertices) {
        const double above = (p - deck_end).dot(deck);
        const Vec3 from = p - foot;
        const double away = (from - from.dot(deck) * deck).norm();
        const double below = (p - side_end).dot(deck);
        if (below <= 1e-6) {
            EXPECT_NEAR(away, upright, 1e-6);
            ++seen[0];
        } else if (std::abs(above) <= 1e-6) {
            ++seen[1];
        } else {  // on the torus: radius from the circle of the arc's middles
            EXPECT_NEAR(std::hypot(away - (upright - radius), below), radius, 1e-6);
            ++seen[2];
        }
    }
    EXPECT_GT(*std::min_element(seen.begin(), seen.end()), 3);
}

TEST(CornerHull, FlatsMayBulgeByTheirOwnGaps) {
    auto options = square_corner(20.0, true);
    options.corner->batten_across = 200.0;
    options.corner->gaps_across = {{0.0, 5.0}};
    const auto hull = measured_hull(options, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    // A circle that falls 5 mm in 100: R = (100^2 + 5^2) / 10, touching the bend where it ends.
    const double bulge = (100.0 * 100.0 + 25.0) / 10.0;
    const double end = 20.0 * std::sin(quarter), drop = -20.0 * (1.0 - std::cos(quarter));
    const Vec3 middle(0, end - bulge * std::sin(quarter), drop - bulge * std::cos(quarter));
    for (const Vec3& p : hull->vertices)
        if (p.y() > end + 1.0) {
            EXPECT_NEAR(std::hypot(p.y() - middle.y(), p.z() - middle.z()), bulge, 1e-6);
        }
}

TEST(CornerHull, RefusesALineThatTurnsWithinItsFlats) {
    auto options = square_corner(20.0, true);
    options.corner->convex = false;
    options.corner->batten = 100.0;
    options.corner->gaps_along = {{-20.0, -20.0}};
    const auto hull = measured_hull(options, job::Side::outside);
    ASSERT_FALSE(hull);
    EXPECT_EQ(hull.error().kind, ErrorKind::bad_input);
    EXPECT_EQ(hull.error().key.rfind("hull.corner.", 0), 0u) << hull.error().message();
}

/// Pins over a parabola: its own spline meets it exactly, so the lengths are those of the closed
/// form.
TEST(CornerSection, GoesRoundAGaugedSectionByItsArcLength) {
    job::Corner corner;
    for (int i = -6; i <= 6; ++i) {
        const double u = 10.0 * i;
        corner.profile.push_back({u, -u * u / 100.0 + 7.0});
    }
    corner.flats = {{50.0, 0.0}};
    const CornerSection section(corner);
    // Length of y = x^2 / (4 f) from 0 to x: x/2 sqrt(1 + x^2/4f^2) + f asinh(x / 2f), f = 25.
    const auto length = [](double x) {
        return 0.5 * x * std::sqrt(1.0 + x * x / 2500.0) + 25.0 * std::asinh(x / 50.0);
    };
    EXPECT_NEAR(section.bend_to(), length(60.0), 1e-5);
    EXPECT_NEAR(section.least(), -length(60.0) - 50.0, 1e-5);
    const SectionPoint at = section.at(length(35.0));
    EXPECT_NEAR(at.at.x(), 35.0, 1e-5);
    EXPECT_NEAR(at.at.y(), -35.0 * 35.0 / 100.0, 1e-5);
    EXPECT_NEAR(std::tan(at.heading), -0.7, 1e-5);
    // Straight on from its end.
    const SectionPoint beyond = section.at(section.least());
    EXPECT_NEAR(beyond.at.x(), -60.0 - 50.0 / std::hypot(1.0, 1.2), 1e-4);
    EXPECT_NEAR(beyond.at.y(), -36.0 - 50.0 * 1.2 / std::hypot(1.0, 1.2), 1e-4);
}

TEST(CornerHull, AGaugedSectionIsMeshedOnItself) {
    auto options = square_corner(20.0, true);
    job::Corner& corner = *options.corner;
    corner.radius.reset();
    corner.angle.reset();
    corner.convex.reset();
    for (int i = -6; i <= 6; ++i) corner.profile.push_back({10.0 * i, -i * i * 1.0});
    const auto hull = measured_hull(options, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_EQ(hull->report.faces, 3);
    for (const Vec3& p : hull->vertices)
        if (std::abs(p.y()) < 59.9) {
            EXPECT_NEAR(p.z(), -p.y() * p.y() / 100.0, 1e-4);
        }
    EXPECT_EQ(hull->by_hand->figures.size(), 13u);
}

}  // namespace
}  // namespace tearline::hull

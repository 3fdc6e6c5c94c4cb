#include "core/plies/net_region.h"

#include <gtest/gtest.h>

#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"
#include "tests/support/loops.h"
#include "tests/support/region_checks.h"

namespace tearline::plies::net_region_test {
namespace {

using std::numbers::pi;

TEST(NetRegion, OfADiscOnTheSphereIsTheGeodesicDisc) {
    // SOURCES.md section 6. In the sphere map's chart the distance from the pole is geodesic, so
    // the region at offset e is the chart disc of radius r + e; perimeter P = 2 pi R sin(r/R).
    for (const double R : {500.0, 1000.0, 2000.0}) {
        const auto patch =
            test::analytic_patch(test::sphere_map(R), test::within_disc(340), 340, 12);
        const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 100), 120);
        const std::vector<double> offsets{0.0, 12.6, 100.0, 200.0};
        const auto regions = net_regions(patch, outline, offsets);
        ASSERT_TRUE(regions) << regions.error().message();
        for (std::size_t k = 0; k < offsets.size(); ++k) {
            const NetRegion& region = (*regions)[k];
            ASSERT_EQ(region.chart.size(), 1u);
            EXPECT_TRUE(region.chart[0].holes.empty());
            EXPECT_FALSE(region.cut_at_hull_end);
            for (const Vec2& p : region.chart[0].outer)
                EXPECT_NEAR(p.norm(), 100 + offsets[k], 0.03) << R;
            const double r = 100 + offsets[k];
            EXPECT_NEAR(perimeter(region.on_base[0].outer) / (2 * pi * R * std::sin(r / R)), 1.0,
                        3e-4);
        }
    }
}

TEST(NetRegion, OfADiscOnTheSaddleIsTheGeodesicDisc) {
    // SOURCES.md section 6: K = -1/1000^2, r = 300: perimeter 1913.3574 mm.
    const auto patch =
        test::analytic_patch(test::pseudosphere_map(1000.0), test::within_box(360, 340), 360, 12);
    // A geodesic circle of radius 100 about the origin by the map's line element
    // dy^2 + cosh(y/R)^2 dx^2: the hyperbolic plane, by right-angled triangles:
    // sinh(y/R) = sinh(r/R) sin(b), tanh(x/R) = tanh(r/R) cos(b).
    const double R = 1000.0;
    const auto circle = [&](double r) {
        return test::ChartCurve{[=](double t) -> Vec2 {
            const double b = 2 * pi * t;
            return R * Vec2(std::atanh(std::tanh(r / R) * std::cos(b)),
                            std::asinh(std::sinh(r / R) * std::sin(b)));
        }};
    };
    const auto outline = test::chart_outline(patch, circle(100.0), 120);
    const std::vector<double> offsets{100.0, 200.0};
    const auto regions = net_regions(patch, outline, offsets);
    ASSERT_TRUE(regions) << regions.error().message();
    for (std::size_t k = 0; k < 2; ++k) {
        ASSERT_EQ((*regions)[k].chart.size(), 1u);
        const double r = 100 + offsets[k];
        for (const Vec2& p : (*regions)[k].chart[0].outer) {
            const double distance = R * std::acosh(std::cosh(p.y() / R) * std::cosh(p.x() / R));
            EXPECT_NEAR(distance, r, 0.05);
        }
    }
    EXPECT_NEAR(perimeter((*regions)[1].on_base[0].outer), 1913.3574, 0.6);
}

TEST(NetRegion, OfASquareIsItsSteinerOffset) {
    // SOURCES.md section 6: A + P m + pi m^2 and perimeter P + 2 pi m, rounded corners.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(340), 340, 12);
    const auto outline = test::chart_outline(
        patch, test::polygon_curve({{-150, -150}, {150, -150}, {150, 150}, {-150, 150}}), 1);
    const std::vector<double> offsets{25.0, 100.0};
    const auto regions = net_regions(patch, outline, offsets);
    ASSERT_TRUE(regions) << regions.error().message();
    EXPECT_NEAR(test::area_of((*regions)[0].chart), 121963.495, 2.0);
    EXPECT_NEAR(perimeter((*regions)[0].on_base[0].outer), 1357.080, 0.05);
    EXPECT_NEAR(test::area_of((*regions)[1].chart), 90000 + 120000 + pi * 1e4, 5.0);
}

TEST(NetRegion, CrossesACreaseAsOnTheDevelopment) {
    // The wedge's chart is its development: the offset of a disc is a disc.
    for (const double turn : {0.8, -1.2}) {
        const auto patch =
            test::analytic_patch(test::wedge_map(turn), test::within_disc(260), 260, 11, true);
        const auto outline = test::chart_outline(patch, test::circle_curve({30, 0}, 60), 90);
        const std::vector<double> offsets{50.0, 150.0};
        const auto regions = net_regions(patch, outline, offsets);
        ASSERT_TRUE(regions) << regions.error().message();
        for (std::size_t k = 0; k < 2; ++k) {
            ASSERT_EQ((*regions)[k].chart.size(), 1u);
            for (const Vec2& p : (*regions)[k].chart[0].outer)
                EXPECT_NEAR((p - Vec2(30, 0)).norm(), 60 + offsets[k], 0.02);
        }
    }
}

TEST(NetRegion, OfACShapedDamageClosesOnAHole) {
    // A ring of radii 60 and 100 with a gap of 24 mm across: at 12 mm the lips meet; what is left
    // inside is the disc of radius 60 - e, until that too is gone.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(240), 240, 10);
    const double inner = 60.0, outer = 100.0, half = 12.0;
    const double a_out = std::asin(half / outer), a_in = std::asin(half / inner);
    const test::ChartCurve c{[=](double t) -> Vec2 {
                                 const double a = a_out + t * (2 * pi - 2 * a_out);
                                 return outer * Vec2(std::cos(a), std::sin(a));
                             },
                             [=](double t) -> Vec2 {
                                 const double x0 = std::sqrt(outer * outer - half * half);
                                 const double x1 = std::sqrt(inner * inner - half * half);
                                 return {x0 + t * (x1 - x0), -half};
                             },
                             [=](double t) -> Vec2 {
                                 const double a = 2 * pi - a_in - t * (2 * pi - 2 * a_in);
                                 return inner * Vec2(std::cos(a), std::sin(a));
                             },
                             [=](double t) -> Vec2 {
                                 const double x0 = std::sqrt(outer * outer - half * half);
                                 const double x1 = std::sqrt(inner * inner - half * half);
                                 return {x1 + t * (x0 - x1), half};
                             }};
    const auto outline = test::chart_outline(patch, c, 60);
    const std::vector<double> offsets{6.0, 30.0, 70.0};
    const auto regions = net_regions(patch, outline, offsets);
    ASSERT_TRUE(regions) << regions.error().message();
    EXPECT_TRUE((*regions)[0].chart[0].holes.empty());
    ASSERT_EQ((*regions)[1].chart.size(), 1u);
    ASSERT_EQ((*regions)[1].chart[0].holes.size(), 1u);
    const Loop2& hole = (*regions)[1].chart[0].holes[0];
    EXPECT_LT(signed_area(hole), 0.0);
    for (const Vec2& p : hole)
        if (p.x() < 0) {
            EXPECT_NEAR(p.norm(), 30.0, 0.02);
        }
    ASSERT_EQ((*regions)[2].chart.size(), 1u);
    EXPECT_TRUE((*regions)[2].chart[0].holes.empty());
}

TEST(NetRegion, IsCutWhereTheHullEnds) {
    // Half of the disc's plane is missing beyond x = 110: a circular segment is cut off.
    const auto inside = [](const Vec2& p) { return p.norm() <= 260 && p.x() <= 110.001; };
    const double edge = 110.0 / (11 * std::sqrt(3.0) / 2.0);  // a column of vertices at x = 110
    const auto patch = test::analytic_patch(test::plane_map, inside, 260, edge, false, true);
    const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 60), 90);
    const std::vector<double> offsets{30.0, 90.0};
    const auto regions = net_regions(patch, outline, offsets);
    ASSERT_TRUE(regions) << regions.error().message();
    EXPECT_FALSE((*regions)[0].cut_at_hull_end);
    EXPECT_TRUE((*regions)[1].cut_at_hull_end);
    const double r = 150.0, d = 110.0;
    const double segment = r * r * std::acos(d / r) - d * std::sqrt(r * r - d * d);
    EXPECT_NEAR(test::area_of((*regions)[1].chart), pi * r * r - segment, 6.0);
}

TEST(NetRegion, RefusesAPatchThatWasCroppedTooNear) {
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(120), 120, 10);
    const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 60), 60);
    const std::vector<double> offsets{30.0, 90.0};
    const auto regions = net_regions(patch, outline, offsets);
    ASSERT_FALSE(regions);
    EXPECT_EQ(regions.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(regions.error().message().find("90.0"), std::string::npos);
}

}  // namespace
}  // namespace tearline::plies::net_region_test

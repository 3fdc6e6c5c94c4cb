#include <gtest/gtest.h>

#include "core/plies/lay_surface.h"
#include "core/plies/net_region.h"
#include "core/surface/curved_area.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"
#include "tests/support/region_checks.h"

/// Net regions and areas against SOURCES.md section 6, on surfaces known in closed form.
namespace tearline::geodesic_regions_test {
namespace {

using std::numbers::pi;

struct Measured {
    double area, perimeter;
};

/// The region at `offset` outside the outline, meshed and measured by its arc lengths.
Measured measure(const surface::Patch& patch, const damage::DamageOutline& outline, double offset) {
    const std::array<double, 1> offsets{offset};
    const auto regions = plies::net_regions(patch, outline, offsets);
    if (!regions) throw std::runtime_error(regions.error().message());
    const auto& region = regions->front();
    if (region.chart.size() != 1) throw std::runtime_error("the region fell apart");
    const auto mesh = plies::mesh_region(patch, region.chart.front());
    if (!mesh) throw std::runtime_error(mesh.error().message());
    return {surface::curved_area(mesh->mesh), perimeter(region.on_base.front().outer)};
}

TEST(GeodesicDiscReference, OnSpheresHasTheAreaAndPerimeterOfTheClosedForm) {
    // Source: SOURCES.md section 6, table: R, area, perimeter for r = 300.
    const std::vector<std::array<double, 3>> table{
        {1000, 280629.115, 1856.8082}, {500, 274362.175, 1773.8766}, {2000, 282213.593, 1877.8950}};
    for (const auto& [R, area, perimeter] : table) {
        const auto patch =
            test::analytic_patch(test::sphere_map(R), test::within_disc(340), 340, 9);
        const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 120), 150);
        const Measured got = measure(patch, outline, 180);
        EXPECT_NEAR(got.area / area, 1.0, 5e-4) << R;  // bar: 0.05 %
        // A net line within 0.1 mm of the true one is within 0.1 mm x 2 pi in perimeter.
        EXPECT_NEAR(got.perimeter, perimeter, 0.2 * pi) << R;
    }
}

TEST(GeodesicDiscReference, OnTheSaddleHasTheAreaAndPerimeterOfTheClosedForm) {
    // Source: SOURCES.md section 6: K = -1/1000^2, r = 300: 284 870.286 mm2, 1913.3574 mm.
    const double R = 1000.0;
    const auto patch =
        test::analytic_patch(test::pseudosphere_map(R), test::within_box(360, 340), 360, 9);
    const auto outline =
        test::chart_outline(patch, {[=](double t) -> Vec2 {
                                const double b = 2 * pi * t, r = 120.0;
                                return R * Vec2(std::atanh(std::tanh(r / R) * std::cos(b)),
                                                std::asinh(std::sinh(r / R) * std::sin(b)));
                            }},
                            150);
    const Measured got = measure(patch, outline, 180);
    EXPECT_NEAR(got.area / 284870.286, 1.0, 5e-4);
    EXPECT_NEAR(got.perimeter, 1913.3574, 0.2 * pi);
}

TEST(SteinerReference, TornEdgeOffsetsOfDiscAndSquare) {
    // Source: SOURCES.md section 6: disc r 150, m 25; square 300, m 25.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(260), 260, 10);
    const Measured disc =
        measure(patch, test::chart_outline(patch, test::circle_curve({0, 0}, 150), 200), 25);
    EXPECT_NEAR(disc.area, 96211.275, 10.0);
    EXPECT_NEAR(disc.perimeter, 1099.557, 0.1);
    const Measured square = measure(
        patch,
        test::chart_outline(
            patch, test::polygon_curve({{-150, -150}, {150, -150}, {150, 150}, {-150, 150}}), 1),
        25);
    EXPECT_NEAR(square.area, 121963.495, 10.0);
    EXPECT_NEAR(square.perimeter, 1357.080, 0.1);
}

TEST(ArcAtDepthReference, SixMillimetresOfDepthAreNineOfCloth) {
    // Source: SOURCES.md section 6: a ply d below an outside radius R spans (R - d) x the turning
    // angle; on 40 mm through 90 degrees each 6 mm of depth is 9.42 mm of cloth.
    const double R = 40.0, quarter = R * pi / 2;
    const auto patch =
        test::analytic_patch([=](const Vec2& p, int) { return test::bilge_map(R, p); },
                             test::within_box(260, 260), 260, 8);
    const double left = -150.0, right = quarter + 150.0, half = 150.0;
    const Region2 strip{{{left, -half}, {right, -half}, {right, half}, {left, half}}, {}};
    const auto mesh = plies::mesh_region(patch, strip);
    ASSERT_TRUE(mesh) << mesh.error().message();
    std::array<double, 2> girth{};
    for (int k = 0; k < 2; ++k) {
        const auto lay = plies::lay_surface(
            patch, *mesh, [depth = 6.0 * k](const Vec2&) { return depth; }, {0, 0});
        ASSERT_TRUE(lay) << lay.error().message();
        girth[static_cast<std::size_t>(k)] = lay->area / (2 * half);
    }
    EXPECT_NEAR(girth[0], 300 + quarter, 0.1);  // bar: girth within 0.1 mm
    EXPECT_NEAR(girth[1], 300 + quarter - 9.4248, 0.1);
}

}  // namespace
}  // namespace tearline::geodesic_regions_test

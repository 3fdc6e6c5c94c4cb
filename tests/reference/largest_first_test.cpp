#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/planned.h"

/// Largest ply first: edges, depths and areas of whole plans by other routes.
namespace tearline {
namespace {

constexpr double pi = std::numbers::pi;

/// DEFINITIONS.md, Edges: e_k = ratio (D - H_(k-1)); the mid-plane over the floor at D - H_(k-1) -
/// t/2.
void expect_levels(const Plan& plan) {
    const double depth = plan.job.damage.depth, ratio = plan.job.scarf.ratio;
    double below = 0.0;
    for (const PlannedPly& ply : plan.plies) {
        if (!ply.cover) {
            EXPECT_NEAR(ply.edge_offset_mm, ratio * (depth - below), 1e-6);
        }
        EXPECT_NEAR(ply.lay_depth_mm, depth - below - 0.5 * ply.thickness_mm, 1e-6);
        below += ply.thickness_mm;
    }
}

std::string largest_first(const std::string& name) {
    return test::with(test::sample_text(name), "fill = \"mat 450\"",
                      "fill = \"mat 450\"\norder = \"largest first\"");
}

/// Area of a ply that lies in a dish on the cylinder of radius 500, its mid-plane z below the
/// base: by quadrature of the first fundamental form in polar coordinates about the middle.
double area_in_the_dish(const Plan& plan, const PlannedPly& ply) {
    const double R = 500.0, ratio = plan.job.scarf.ratio;
    const double floor = *plan.job.damage.radius, edge = test::disc_radius(plan, ply);
    const auto integrand = [&](double r, double angle) {
        const double up = std::max(0.0, r - floor) / ratio;
        const double z = ply.lay_depth_mm - up, slope = r > floor ? -1.0 / ratio : 0.0;
        const double zx = slope * std::cos(angle), zy = slope * std::sin(angle);
        const double shrink = (R - z) / R;
        return r * std::sqrt((1.0 + zx * zx) * (shrink * shrink + zy * zy) - zx * zx * zy * zy);
    };
    constexpr int around = 256, out = 2000;
    double sum = 0.0;
    for (int i = 0; i < around; ++i)
        for (const auto& [from, to] : {std::pair{0.0, floor}, std::pair{floor, edge}})
            for (int k = 0; k < out / 2; ++k) {
                const double r = from + (to - from) * (k + 0.5) / (out / 2);
                sum += integrand(r, 2 * pi * (i + 0.5) / around) * (to - from) / (out / 2);
            }
    return sum * 2 * pi / around;
}

TEST(LargestFirstReference, LiesInTheDishOfACylinder) {
    const Plan plan = test::planned(largest_first("cylinder"));
    expect_levels(plan);
    for (const PlannedPly& ply : plan.plies) {
        if (ply.cover) continue;
        EXPECT_NEAR(ply.surface_area_mm2 / area_in_the_dish(plan, ply), 1.0, 5e-4) << ply.number;
        // A cone of slope 1:12 does not unroll round its kink: a small strain, and not none.
        EXPECT_LT(ply.pieces.at(0).piece.strain_max, 0.01);
    }
}

class LargestFirst : public testing::TestWithParam<std::tuple<const char*, const char*>> {};

TEST_P(LargestFirst, IsPlannedOnRealHullsFromBothSides) {
    const auto& [name, side] = GetParam();
    std::string text = largest_first(name);
    text = text.substr(0, text.find("depth =")) + "side = \"" + side + "\"\n" +
           text.substr(text.find("depth ="));
    if (std::string(name) == "curlew") text = test::with(text, "side = \"outside\"\n\n", "\n");
    const Plan plan = test::planned(text);
    expect_levels(plan);
    double before = 1e300;
    for (const PlannedPly& ply : plan.plies) {
        ASSERT_EQ(ply.pieces.size(), 1u);
        // Laid in the order of size; its surface is not far from what its edge encloses flat.
        if (!ply.cover) {
            EXPECT_LT(ply.surface_area_mm2, before);
            before = ply.surface_area_mm2;
        }
        const double net = signed_area(ply.pieces[0].outline.net.outer);
        EXPECT_NEAR(net / ply.surface_area_mm2, 1.0, 0.01);
    }
}

INSTANTIATE_TEST_SUITE_P(Hulls, LargestFirst,
                         testing::Combine(testing::Values("curlew", "sandpiper"),
                                          testing::Values("outside", "inside")));

}  // namespace
}  // namespace tearline

#include "core/plan/lay_plies.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/job/read_job.h"
#include "core/plan/count_strips.h"
#include "core/plan/plan.h"
#include "core/quantities/quantities.h"
#include "tests/support/analytic_patch.h"

namespace tearline::plan {
namespace {

/// The damage outline of a disc about the chart's origin.
damage::DamageOutline disc(const surface::Patch& patch, double radius) {
    damage::DamageOutline outline;
    constexpr int count = 720;
    for (int i = 0; i < count; ++i) {
        const double a = 2.0 * std::numbers::pi * i / count;
        const Vec2 p = radius * Vec2(std::cos(a), std::sin(a));
        const auto at = patch.locate(p);
        const Vec3 tangent(-std::sin(a), std::cos(a), 0.0);
        outline.points.push_back({*at, patch.sample(*at).position, tangent, tangent});
        outline.chart.push_back(p);
    }
    return outline;
}

/// The worked job of SOURCES.md section 1 on a flat panel.
job::Job worked(const std::string& layup) {
    const auto job = job::parse_job(
        "[hull]\nmodel = \"panel.step\"\nbow = [1, 0, 0]\nup = [0, 1, 0]\n"
        "[damage]\ncentre = [0, 0, 0]\nradius = 100\ndepth = 8.40625\n"
        "[[fabric]]\nname = \"mat 450\"\ntear_margin = 0\n[layup]\ncover = []\n" +
            layup,
        std::string(TEARLINE_SAMPLES) + "/worked.toml");
    EXPECT_TRUE(job.has_value()) << job.error().message();
    return *job;
}

Result<ground::Ground> ground_of(const job::Job& job) {
    auto patch = test::analytic_patch(test::plane_map, test::within_disc(280), 290, 12);
    auto levels = plies::ply_levels(job);
    EXPECT_TRUE(levels.has_value());
    auto outline = disc(patch, 100.0);
    return ground::lay_ground(job, std::move(*levels), std::move(patch), std::move(outline));
}

/// It planned up to its quantities.
Plan worked_job(const std::string& layup) {
    const job::Job job = worked(layup);
    const auto ground = ground_of(job);
    EXPECT_TRUE(ground.has_value()) << ground.error().message();
    if (!ground) return {};
    Plan plan;
    plan.job = job;
    plan.place = describe_ground(*ground, hull::Hull{}, job).value();
    plan.plies = lay_plies(*ground, job, ground->levels.plies).value().plies;
    plan.quantities =
        quantities::quantities_of({job, plan.plies, plan.place.areas, plan.place.dish, {}, 0.0})
            .value();
    return plan;
}

TEST(LayPlies, WorksTheFlatJobOfTheTradeFacts) {
    // SOURCES.md section 1 (derived): eight 450 g/m2 mats, radii 112.61 ... 200.88 mm, 0.638443
    // m2, 287.30 g glass, 670.37 g resin before priming and waste.
    const Plan plan = worked_job("fill = \"mat 450\"\n");
    ASSERT_EQ(plan.plies.size(), 8u);
    double area = 0.0, glass = 0.0, resin = 0.0;
    for (const templates::LaidPly& ply : plan.plies) {
        const double radius = 100.0 + 12.0 * 1.05078125 * ply.number;
        ASSERT_EQ(ply.pieces.size(), 1u);
        EXPECT_NEAR(ply.surface_area_mm2, std::numbers::pi * radius * radius,
                    5e-4 * ply.surface_area_mm2);
        for (const Vec2& p : ply.pieces[0].outline.net.outer) EXPECT_NEAR(p.norm(), radius, 0.02);
    }
    for (const quantities::PlyAmounts& ply : plan.quantities.plies) {
        area += ply.glass_area_mm2 * 1e-6;
        glass += ply.glass_g;
        resin += ply.resin_g;
    }
    EXPECT_NEAR(area, 0.638443, 0.638443 * 5e-4);
    EXPECT_NEAR(glass, 287.30, 0.15);
    EXPECT_NEAR(resin, 670.37, 0.35);
}

TEST(LayPlies, LargestFirstFollowsTheDishOnTheFlat) {
    // By hand: largest first, ply k's edge is ratio (D - H_(k-1)) out; on the flat its mid-plane
    // runs over the floor and up the scarf, so the cloth is longer than its plan by the slope only.
    const Plan plan = worked_job("fill = \"mat 450\"\norder = \"largest first\"\n");
    ASSERT_EQ(plan.plies.size(), 8u);
    const templates::LaidPly& first = plan.plies.front();
    EXPECT_NEAR(first.edge_offset_mm, 12.0 * 8.40625, 1e-9);
    // The floor disc and a conical scarf of slope 1/12 (closed form).
    const double outer = 100.0 + 12.0 * 8.40625;
    const double slope = std::sqrt(1.0 + 1.0 / 144.0);
    const double area =
        std::numbers::pi * (100.0 * 100.0 + (outer * outer - 100.0 * 100.0) * slope);
    EXPECT_NEAR(first.surface_area_mm2, area, 5e-4 * area);
}

TEST(LayPlies, DescribesDamageScarfAndFootprint) {
    const Plan plan = worked_job("fill = \"mat 450\"\n");
    const double w = 12.0 * 8.40625;
    EXPECT_NEAR(plan.place.areas.damage_mm2, std::numbers::pi * 1e4, 5e-4 * 31416.0);
    EXPECT_NEAR(plan.place.areas.damage_perimeter_mm, 200.0 * std::numbers::pi, 0.02);
    EXPECT_NEAR(plan.place.areas.scarf_mm2, std::numbers::pi * (100 + w) * (100 + w), 60.0);
    EXPECT_FALSE(plan.place.grind_guide.rings.empty());
}

TEST(LayPlies, HundredAndFiftyStripsAreLaidAndOneMoreIsNot) {
    // Closed form: ply k is a disc of radius 100 + 12.609375 k (SOURCES.md section 1), cut into as
    // many strips as 1.15 roll widths go into its diameter, rounded up.
    job::Job job = worked("fill = \"mat 450\"\n");
    const auto ground = ground_of(job);
    ASSERT_TRUE(ground.has_value()) << ground.error().message();
    const auto strips = [](double roll) {
        int count = 0;
        for (int k = 1; k <= 8; ++k)
            count += static_cast<int>(std::ceil(2.0 * (100.0 + 12.609375 * k) / (1.15 * roll)));
        return count;
    };
    // Of a roll some tenths of a millimetre narrower each time, until there are 155.
    bool at_most = false, one_more = false;
    for (double roll = 16.0; strips(roll) <= 155; roll -= 0.037) {
        job.fabrics.at("mat 450").roll_width = roll;
        const auto checked = check_count_of_strips(*ground, job, ground->levels.plies);
        const int count = strips(roll);
        at_most = at_most || count == 150;
        one_more = one_more || count == 151;
        EXPECT_EQ(checked.has_value(), count <= 150) << count;
        if (!checked) {
            EXPECT_NE(checked.error().message().find(" " + std::to_string(count) + " pieces"),
                      std::string::npos)
                << checked.error().message();
        }
    }
    EXPECT_TRUE(at_most);
    EXPECT_TRUE(one_more);
}

}  // namespace
}  // namespace tearline::plan

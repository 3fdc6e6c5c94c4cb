#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>

#include "tests/support/planned.h"

/// The worked jobs and published figures of SOURCES.md sections 1 to 3, each as a whole plan of
/// sample-models/panel.step.
namespace tearline::worked_jobs_test {
namespace {

using std::numbers::pi;
constexpr double inch = 25.4;

std::string on_the_panel(const std::string& damage, const std::string& rest) {
    return "[hull]\nmodel = \"panel.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
           "outward = \"as modelled\"\n[damage]\ncentre = [0, 0, 0]\n" +
           damage + "\n[scarf]\nratio = 12\n" + rest;
}

/// Largest error of an edge that is a circle about the datum [mm].
double circle_error(const Loop2& loop, double radius) {
    double worst = 0.0;
    for (const Vec2& p : test::with_middles(loop))
        worst = std::max(worst, std::abs(p.norm() - radius));
    return worst;
}

TEST(WorkedJobReference, EightMatsByTheDefinitions) {
    // Derived (SOURCES.md section 1): depth 8.40625 mm, eight 450 g/m2 mats at 30 % glass, no
    // tear margin: radii 112.61 ... 200.88 mm, 0.638443 m2, 287.30 g glass, 670.37 g resin.
    const Plan plan = test::planned(test::sample_text("panel"));
    double area = 0.0, glass = 0.0, resin = 0.0;
    int laid = 0;
    for (const templates::LaidPly& ply : plan.plies) {
        if (ply.cover) continue;
        const double radius = 100.0 + 12.0 * 1.05078125 * ++laid;
        EXPECT_LE(circle_error(ply.pieces.at(0).outline.net.outer, radius), 0.02) << laid;
        EXPECT_NEAR(ply.thickness_mm, 1.05078125, 1e-9);
        const auto& amounts = quantities::amounts_of(plan.quantities, ply.number);
        area += amounts.glass_area_mm2 * 1e-6;
        glass += amounts.glass_g;
        resin += amounts.resin_g;
    }
    EXPECT_EQ(laid, 8);
    EXPECT_NEAR(area, 0.638443, 5e-4 * 0.638443);
    EXPECT_NEAR(glass, 287.30, 5e-4 * 287.30);
    EXPECT_NEAR(resin, 670.37, 5e-4 * 670.37);
    // Without torn bands the steps stand 0.53 mm proud on average, 1.05 mm at most.
    EXPECT_NEAR(plan.quantities.proud.mean_mm, 0.53, 0.005);
    EXPECT_NEAR(plan.quantities.proud.max_mm, 1.05, 0.005);
}

TEST(WorkedJobReference, TornBandsOfTwentyMillimetresStandProud) {
    // The same job with 20 mm torn bands: 1.24 mm proud on average, 1.44 mm at most.
    const Plan plan = test::planned(test::with(test::sample_text("panel"), "tear_margin = \"0 mm\"",
                                               "tear_margin = \"20 mm\""));
    EXPECT_NEAR(plan.quantities.proud.mean_mm, 1.24, 0.005);
    EXPECT_NEAR(plan.quantities.proud.max_mm, 1.44, 0.005);
}

TEST(WorkedJobReference, EightPliesOfOneMillimetre) {
    // Derived: 100 mm hole, 8 mm deep, 12:1, 1 mm plies: outer radius 196; radii 112, 124 ... 196;
    // 0.615 m2; ground-out frustum 569 809.5 mm3.
    const Plan plan = test::planned(
        on_the_panel("radius = \"100 mm\"\ndepth = \"8 mm\"",
                     "[layup]\nfill = \"mat 450\"\ncover = []\n[[fabric]]\nname = \"mat 450\"\n"
                     "thickness = \"1 mm\"\ntear_margin = 0\n"));
    ASSERT_EQ(plan.plies.size(), 8u);
    double area = 0.0;
    for (const templates::LaidPly& ply : plan.plies) {
        const double radius = 100.0 + 12.0 * ply.number;
        EXPECT_LE(circle_error(ply.pieces.at(0).outline.net.outer, radius), 0.02);
        area += quantities::amounts_of(plan.quantities, ply.number).glass_area_mm2 * 1e-6;
    }
    EXPECT_NEAR(area, 0.615, 5e-4);
    ASSERT_EQ(plan.place.scarf.size(), 1u);
    EXPECT_NEAR(plan.place.areas.scarf_mm2, pi * 196 * 196, 5e-4 * pi * 196 * 196);
    // Volume of the dish: its profile turned about the middle (Pappus, piece by piece).
    double volume = pi * 100.0 * 100.0 * plan.place.dish.front().y();
    for (std::size_t i = 0; i + 1 < plan.place.dish.size(); ++i) {
        const Vec2 &a = plan.place.dish[i], &b = plan.place.dish[i + 1];
        const double ra = 100.0 + a.x(), rb = 100.0 + b.x();
        volume += pi * (rb - ra) / 3.0 * (a.y() * (2.0 * ra + rb) + b.y() * (ra + 2.0 * rb));
    }
    EXPECT_NEAR(volume, 569809.5, 0.5);
}

TEST(PublishedScarfReference, CirclesOfTheOwnersGuides) {
    // Published owner guides (SOURCES.md section 1), 12:1: skin or depth, hole across, circle.
    const struct {
        double depth_in, hole_in, scarf_in, circle_in;
    } table[] = {{0.44, 0.75, 5.28, 11.31}, {0.31, 0.75, 3.72, 8.19}, {0.25, 1.0, 3.0, 7.0}};
    for (const auto& row : table) {
        const Plan plan = test::planned(
            on_the_panel("radius = \"" + std::to_string(row.hole_in / 2) + " in\"\ndepth = \"" +
                             std::to_string(row.depth_in) + " in\"",
                         "[layup]\nfill = \"mat 450\"\ncover = []\n"));
        EXPECT_NEAR(plan.place.dish.back().x() / inch, row.scarf_in, 1e-6);
        for (const Vec3& p : test::with_middles(plan.place.scarf.at(0).outer))
            EXPECT_NEAR(2.0 * p.norm() / inch, row.circle_in, 0.001);
    }
}

TEST(PlyThicknessReference, AndResinByGlassOfEveryClothOfTheTable) {
    // SOURCES.md section 2: t = w (2.56/psi - 1.36)/3.072 (as in ISO 12215-5) and resin : glass.
    const std::map<std::string, std::array<double, 2>> table{
        {"mat 225", {0.525, 2.333}},       {"mat 300", {0.701, 2.333}},
        {"mat 450", {1.050781, 2.333}},    {"mat 600", {1.401, 2.333}},
        {"roving 600", {0.776042, 1.083}}, {"roving 800", {1.035, 1.083}},
        {"biaxial 600", {0.734375, 1.0}},  {"biaxial 800", {0.979, 1.0}}};
    std::string stack;
    for (const auto& [name, figures] : table) stack += "\"" + name + "\", ";
    const Plan plan = test::planned(on_the_panel("radius = 60\ndepth = \"7.2 mm\"",
                                                 "[layup]\nstack = [" + stack + "]\ncover = []\n"));
    ASSERT_EQ(plan.plies.size(), table.size());
    for (const templates::LaidPly& ply : plan.plies) {
        EXPECT_NEAR(ply.thickness_mm, table.at(ply.fabric)[0], 0.0006) << ply.fabric;
        const auto& amounts = quantities::amounts_of(plan.quantities, ply.number);
        EXPECT_NEAR(amounts.resin_g / amounts.glass_g, table.at(ply.fabric)[1], 0.0006)
            << ply.fabric;
    }
}

TEST(LabelReference, OuncesAreWeighedByTheFootForMatAndByTheYardForRoving) {
    // SOURCES.md section 3: 1.5 oz/ft2 = 457.7276 g/m2, 24 oz/yd2 = 813.7379, 10 oz/yd2 = 339.06.
    const struct {
        std::string weight, kind;
        double grams;
    } table[] = {{"0.75 oz/ft2", "mat", 228.86},   {"1.5 oz/ft2", "mat", 457.7276},
                 {"2 oz/ft2", "mat", 610.30},      {"18 oz/yd2", "woven", 610.30},
                 {"24 oz/yd2", "woven", 813.7379}, {"10 oz/yd2", "woven", 339.06}};
    for (const auto& row : table) {
        const Plan plan = test::planned(on_the_panel(
            "radius = \"4 in\"\ndepth = \"1 mm\"",
            "[layup]\nstack = [\"own\"]\ncover = []\n[[fabric]]\nname = \"own\"\nkind = \"" +
                row.kind + "\"\nweight = \"" + row.weight + "\"\n" +
                (row.kind == "mat" ? "tear_margin = 0\n" : "")));
        const quantities::PlyAmounts& ply = plan.quantities.plies.at(0);
        EXPECT_NEAR(ply.glass_g / (ply.glass_area_mm2 * 1e-6), row.grams, 0.005) << row.weight;
    }
}

}  // namespace
}  // namespace tearline::worked_jobs_test

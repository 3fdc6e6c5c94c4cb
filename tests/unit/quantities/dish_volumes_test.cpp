#include "core/quantities/dish_volumes.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/ground/ground.h"
#include "core/job/read_job.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"

namespace tearline::quantities {
namespace {

using std::numbers::pi;
constexpr double mat = 1.05078125;  // [mm] of mat 450: 0.45 (2.56/0.30 - 1.36)/3.072

/// A paraboloid of revolution ground into a flat panel out to a radius of 100 mm.
constexpr double rim = 100.0, deep = 6.5;
double depth(double radius) {
    return deep * (1.0 - radius * radius / (rim * rim));
}

Result<DishVolumes> volumes_of(double tear_margin, const std::string& order = "smallest first") {
    std::string text =
        "[hull]\nmodel = \"panel.step\"\nbow = [1, 0, 0]\nup = [0, 1, 0]\n[damage]\n"
        "centre = [0, 0, 0]\nradius = 100\ndepth = 6.5\nround = \"ground area\"\n";
    for (const auto& [radius, count] :
         {std::pair{0.0, 1}, {30.0, 8}, {55.0, 12}, {75.0, 16}, {90.0, 20}})
        for (int i = 0; i < count; ++i) {
            const double a = 2 * pi * (i + 0.5) / count;
            text += "[[damage.sounding]]\nat = [" + std::to_string(radius * std::cos(a)) + ", " +
                    std::to_string(radius * std::sin(a)) +
                    ", 0]\ndepth = " + std::to_string(depth(radius)) + "\n";
        }
    text += "[[fabric]]\nname = \"mat 450\"\ntear_margin = " + std::to_string(tear_margin) +
            "\n[layup]\nfill = \"mat 450\"\ncover = []\norder = \"" + order + "\"\n";
    const auto job = job::parse_job(text, std::string(TEARLINE_SAMPLES) + "/dish.toml");
    if (!job) return tl::unexpected(job.error());
    auto levels = plies::ply_levels(*job);
    if (!levels) return tl::unexpected(levels.error());
    auto patch = test::analytic_patch(test::plane_map, test::within_disc(330), 340, 12);
    auto outline = test::chart_outline(
        patch,
        {[](double t) -> Vec2 { return rim * Vec2(std::cos(2 * pi * t), std::sin(2 * pi * t)); }},
        720);
    const auto ground =
        ground::lay_ground(*job, std::move(*levels), std::move(patch), std::move(outline));
    if (!ground) return tl::unexpected(ground.error());
    return dish_volumes(*job, *ground);
}

/// By rings of the paraboloid: plies up to the level where half of one more still fits. [mL]
struct Closed {
    double dish = 0.0, filled = 0.0, proud = 0.0;

    Closed() {
        constexpr int steps = 20000;
        for (int i = 0; i < steps; ++i) {
            const double r = rim * (i + 0.5) / steps, d = depth(r);
            const double ring = 2 * pi * r * rim / steps / 1000.0;
            const double laid = mat * std::floor(d / mat + 0.5);
            dish += ring * d;
            filled += ring * std::min(d, laid);
            proud += ring * std::max(0.0, laid - d);
        }
    }
};

TEST(DishVolumes, OfAParaboloidAreThoseOfTheClosedForm) {
    const Closed closed;
    EXPECT_NEAR(closed.dish, 0.5 * pi * rim * rim * deep / 1000.0, 1e-3);  // half the cylinder
    const auto found = volumes_of(0.0);
    ASSERT_TRUE(found) << found.error().message();
    EXPECT_NEAR(found->dish_mL / closed.dish, 1.0, 0.005);
    EXPECT_NEAR(found->laminate_mL / closed.filled, 1.0, 0.01);
    EXPECT_NEAR(found->fairing_mL, closed.dish - closed.filled, 0.01 * closed.dish);
    EXPECT_NEAR(found->proud_mL, closed.proud, 0.01 * closed.dish);
    EXPECT_NEAR(found->proud_max_mm, 0.5 * mat, 0.05);
    EXPECT_NEAR(found->dish_mL, found->laminate_mL + found->fairing_mL, 1e-9);
}

TEST(DishVolumes, TornBandsFillMoreAndStandProud) {
    const auto plain = volumes_of(0.0), banded = volumes_of(15.0);
    ASSERT_TRUE(plain);
    ASSERT_TRUE(banded);
    EXPECT_NEAR(banded->dish_mL, plain->dish_mL, 1e-6);
    // By rings: outside each of six edges, where the dish is 0.5 ... 5.5 mats deep at the radii R =
    // 100 sqrt(1 - d/6.5), a mat thins from its thickness to nothing over 15 mm. What of that lies
    // in the ground area either fills or stands proud.
    double bands = 0.0;
    for (int k = 0; k < 6; ++k) {
        const double edge = rim * std::sqrt(1.0 - (k + 0.5) * mat / deep);
        constexpr int steps = 1000;
        for (int i = 0; i < steps; ++i) {
            const double out = 15.0 * (i + 0.5) / steps, r = edge + out;
            if (r < rim) bands += 2 * pi * r * mat * (1.0 - out / 15.0) * 15.0 / steps / 1000.0;
        }
    }
    const double more =
        banded->laminate_mL + banded->proud_mL - plain->laminate_mL - plain->proud_mL;
    EXPECT_NEAR(more, bands, 0.03 * bands);
    EXPECT_GT(banded->proud_max_mm, plain->proud_max_mm + 0.1);
}

}  // namespace
}  // namespace tearline::quantities

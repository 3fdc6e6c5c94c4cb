#include "core/patch/rough_scan.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <random>

#include "core/patch/build_patch.h"
#include "tests/support/mesh_as_read.h"
#include "tests/support/mesh_hulls.h"

namespace tearline::patch::rough_scan_test {
namespace {

using Height = std::function<double(double, double)>;

/// A square grid of `cell` over 120 cells each way, lifted to a height with noise of normal
/// distribution square to it; the seed is fixed.
test::PlainMesh scan(double cell, double noise, const Height& height) {
    std::mt19937 random(26112026);
    std::normal_distribution<double> off(0.0, 1.0);
    constexpr int cells = 120;
    return test::grid(cells, cells, [&](double u, double v) {
        const double x = cell * cells * (u - 0.5), y = cell * cells * (v - 0.5);
        return Vec3(x, y, height(x, y) + noise * off(random));
    });
}

std::optional<RoughScan> roughness(double cell, double noise, const Height& height) {
    const test::PlainMesh mesh = scan(cell, noise, height);
    return find_rough_scan(test::mesh_as_read(mesh.points, mesh.triangles), {0, 0, 0});
}

double flat(double, double) {
    return 0.0;
}
double bilge(double x, double) {
    return -std::sqrt(150.0 * 150.0 - x * x);
}
double chine(double x, double) {
    return -std::abs(x);
}

TEST(RoughScan, TheMiddleTurnIsTheOneOfTheNoise) {
    // By hand, small angles: two facets of a grid of cell L turn by the noise of four corners, each
    // s / L in slope: 2 s / L over the grid's own edges, 2 sqrt(2) s / L over its diagonals, a
    // third of all. At s = 0.12, L = 1.5 that is 9.17 and 12.97 degrees; half of such a mixture
    // lies within 6.9 degrees (2/3 x 0.548 + 1/3 x 0.405 = 0.500, table of the normal law).
    const auto rough = roughness(1.5, 0.12, flat);
    ASSERT_TRUE(rough);
    EXPECT_NEAR(rough->turn, 6.9, 0.3);
    EXPECT_LT(rough->at.norm(), 10.0) << "the place named is the one nearest to the damage";
}

TEST(RoughScan, ThinnedAsToldTheSameNoiseIsFairAgain) {
    for (const double noise : {0.15, 0.3}) {
        const auto rough = roughness(1.5, noise, flat);
        ASSERT_TRUE(rough);
        EXPECT_FALSE(roughness(rough->thin_to, noise, flat)) << rough->thin_to;
    }
}

TEST(RoughScan, NoiseIsSeenOnBilgesAndChinesToo) {
    EXPECT_TRUE(roughness(1.5, 0.2, bilge));
    EXPECT_TRUE(roughness(1.5, 0.2, chine));
    EXPECT_FALSE(roughness(1.5, 0.03, bilge));
    EXPECT_FALSE(roughness(1.5, 0.03, chine));
}

TEST(RoughScan, ShapesThatFoldByDesignAreNoNoise) {
    EXPECT_FALSE(roughness(2.0, 0.0, chine));
    // Planks lapped every 40 mm by steps of 6 mm: edges out and in of 70 degrees.
    EXPECT_FALSE(roughness(2.0, 0.0, [](double x, double) { return 6.0 * std::floor(x / 40.0); }));
    // Humps and saddles side by side, as an egg box: facets of 3 mm turn up and down by up to
    // 10.5 / 15^2 x 3 rad = 8 degrees.
    EXPECT_FALSE(roughness(3.0, 0.0, [](double x, double y) {
        return 10.5 * (std::cos(x / 15.0) + std::cos(y / 15.0));
    }));
}

TEST(RoughScan, NoSampleIsCalledRough) {
    test::expect_no_sample(find_rough_scan);
}

TEST(RoughScan, IsRefusedWithItsTurnAndPlaceAndWhatWouldDo) {
    const hull::Hull hull = test::hull_of(scan(1.5, 0.3, flat));
    PatchRequest request;
    request.seeds = {{0, 0, 0}};
    request.damage_radius = 20;
    request.reach = 30;
    const auto patch = build_patch(hull, request);
    ASSERT_FALSE(patch);
    EXPECT_EQ(patch.error().kind, ErrorKind::bad_input);
    for (const char* words :
         {"hull.model: this looks like a scan", "degrees", "[hull.scan]", "exact = true"})
        EXPECT_NE(patch.error().message().find(words), std::string::npos)
            << patch.error().message();
}

}  // namespace
}  // namespace tearline::patch::rough_scan_test

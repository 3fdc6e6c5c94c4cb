#include "core/scan/layers.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace tearline::scan {
namespace {

/// Heights all over a square of 200 mm, and a second layer of them over part of it.
std::vector<LayerPoint> heights(double spread, double apart, double part, double share = 1.0) {
    std::mt19937 random(5);
    std::normal_distribution<double> off(0.0, spread);
    std::uniform_real_distribution<double> one(0.0, 1.0);
    std::vector<LayerPoint> all;
    for (double u = -100.0; u < 100.0; u += 4.0)
        for (double v = -100.0; v < 100.0; v += 4.0) {
            // Whatever was fitted through both leans, too.
            const double lean = 0.1 * u;
            const auto seen = [&](double x, double height) {
                all.push_back({{x, v}, lean + height, {x, v, height}});
            };
            seen(u, off(random));
            if (u < 200.0 * part - 100.0 && one(random) < share) seen(u + 1.0, apart + off(random));
        }
    return all;
}

TEST(Layers, AreToldByHowFarApartTheyLie) {
    const auto layers = layers_of(heights(1.0, 50.0, 1.0), 4.0, 10.0);
    ASSERT_TRUE(layers);
    EXPECT_NEAR(layers->apart, 50.0, 0.5);
    EXPECT_GT(layers->share, 0.95);
}

TEST(Layers, AreMeasuredAcrossThemselvesAndNotAcrossWhatWasFitted) {
    // Two spheres, R 700 and 650, seen over a surface that leans from both by 20 degrees: along its
    // normals they are 50 / cos 20 = 53.2 mm apart.
    std::vector<LayerPoint> all;
    const Vec3 normal(std::sin(0.349), 0.0, std::cos(0.349));
    const Vec3 along(normal.z(), 0.0, -normal.x());
    for (double u = -100.0; u < 100.0; u += 4.0)
        for (double v = -100.0; v < 100.0; v += 4.0)
            for (const double radius : {700.0, 650.0}) {
                const Vec3 at(u, v, std::sqrt(radius * radius - u * u - v * v) - 700.0);
                all.push_back({{at.dot(along), v}, at.dot(normal), at});
            }
    const auto layers = layers_of(all, 4.0, 10.0);
    ASSERT_TRUE(layers);
    EXPECT_NEAR(layers->apart, 50.0, 0.5);
}

TEST(Layers, OfPartAreToldByTheirShare) {
    const auto layers = layers_of(heights(1.0, 50.0, 0.3), 4.0, 10.0);
    ASSERT_TRUE(layers);
    EXPECT_NEAR(layers->share, 0.3, 0.1);  // by whole squares of 20 mm
}

TEST(Layers, OneSkinIsOne) {
    EXPECT_FALSE(layers_of(heights(1.0, 0.0, 0.0), 4.0, 10.0));
    EXPECT_FALSE(layers_of(heights(1.0, 3.0, 1.0), 4.0, 10.0));  // two passes of it
}

TEST(Layers, ClutterMakesNone) {
    const auto layers = layers_of(heights(1.0, 50.0, 1.0, 0.05), 4.0, 10.0);
    EXPECT_LT(layers ? layers->share : 0.0, 0.05);
}

}  // namespace
}  // namespace tearline::scan

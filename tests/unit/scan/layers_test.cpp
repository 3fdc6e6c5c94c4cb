#include "core/scan/layers.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace tearline::scan {
namespace {

/// Heights all over a square of 200 mm, and a second layer of them over part of it.
std::vector<Residual> heights(double spread, double apart, double part, double share = 1.0) {
    std::mt19937 random(5);
    std::normal_distribution<double> off(0.0, spread);
    std::uniform_real_distribution<double> one(0.0, 1.0);
    std::vector<Residual> all;
    for (double u = -100.0; u < 100.0; u += 4.0)
        for (double v = -100.0; v < 100.0; v += 4.0) {
            // Whatever was fitted through both leans, too.
            const double lean = 0.1 * u;
            all.push_back({{u, v}, lean + off(random)});
            if (u < 200.0 * part - 100.0 && one(random) < share)
                all.push_back({{u + 1.0, v}, lean + apart + off(random)});
        }
    return all;
}

TEST(Layers, AreToldByHowFarApartTheyLie) {
    const auto layers = layers_of(heights(1.0, 50.0, 1.0), 4.0, 10.0);
    ASSERT_TRUE(layers);
    EXPECT_NEAR(layers->apart, 50.0, 6.0);  // less what noise and the lean reach into the gap
    EXPECT_GT(layers->share, 0.95);
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

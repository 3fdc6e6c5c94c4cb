#include "core/scan/noise.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "tests/support/scanned_shapes.h"

namespace tearline::scan::noise_test {
namespace {

using scanned::Waves;

std::vector<Residual> residuals(double spread, double correlation, double apart) {
    const Waves waves(5, spread, correlation);
    std::vector<Residual> all;
    for (double u = 0.0; u < 400.0; u += apart)
        for (double v = 0.0; v < 400.0; v += apart) all.push_back({{u, v}, waves.at({u, v})});
    return all;
}

struct Kind {
    double spread, correlation;
};
class NoiseSeen : public testing::TestWithParam<Kind> {};

TEST_P(NoiseSeen, IsTheNoisePutIn) {
    // The noise is made with these figures: a tenth for s, a fifth for L.
    const auto [spread, correlation] = GetParam();
    const Noise seen = noise_of(residuals(spread, correlation, 4.0), 4.0);
    EXPECT_NEAR(seen.spread, spread, 0.10 * spread);
    EXPECT_NEAR(seen.correlation, correlation, 0.20 * correlation);
}

INSTANTIATE_TEST_SUITE_P(Kinds, NoiseSeen,
                         testing::Values(Kind{0.1, 4.0}, Kind{0.3, 4.0}, Kind{1.0, 8.0},
                                         Kind{3.0, 16.0}),
                         [](const auto& test) {
                             return "L" + std::to_string(static_cast<int>(test.param.correlation)) +
                                    "s" + std::to_string(static_cast<int>(10 * test.param.spread));
                         });

TEST(NoiseSeen, UncorrelatedPointsHaveTheDensityOfTheirSpacing) {
    // Closed form: independent errors of spread s at points each standing for a^2 have the density
    // s^2 a^2, and so 2 pi L^2 s^2 asks for L = a / sqrt(2 pi).
    std::mt19937 random(3);
    std::normal_distribution<double> error(0.0, 0.2);
    std::vector<Residual> all;
    for (double u = 0.0; u < 400.0; u += 4.0)
        for (double v = 0.0; v < 400.0; v += 4.0) all.push_back({{u, v}, error(random)});
    const Noise seen = noise_of(all, 4.0);
    EXPECT_NEAR(seen.spread, 0.2, 0.02);
    EXPECT_NEAR(seen.density(), 0.2 * 0.2 * 16.0, 0.2 * 0.2 * 0.2 * 16.0);
}

}  // namespace
}  // namespace tearline::scan::noise_test

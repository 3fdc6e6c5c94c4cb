#include "core/scan/noise.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <string>
#include <vector>

namespace tearline::scan {
namespace {

/// Noise of a known spread and correlation exp(-r^2 / 2 L^2), as a sum of waves of random
/// direction.
/// @source  Rahimi and Recht, Random features for large-scale kernel machines (2007)
class Waves {
public:
    Waves(unsigned start, double spread, double correlation) : spread_(spread) {
        std::mt19937 random(start);
        std::normal_distribution<double> number(0.0, 1.0 / correlation);
        std::uniform_real_distribution<double> phase(0.0, 2.0 * std::numbers::pi);
        for (int i = 0; i < 600; ++i) {
            wave_.emplace_back(number(random), number(random));
            phase_.push_back(phase(random));
        }
    }
    [[nodiscard]] double at(const Vec2& uv) const {
        double sum = 0.0;
        for (std::size_t i = 0; i < wave_.size(); ++i)
            sum += std::cos(wave_[i].dot(uv) + phase_[i]);
        return spread_ * sum * std::sqrt(2.0 / static_cast<double>(wave_.size()));
    }

private:
    double spread_;
    std::vector<Vec2> wave_;
    std::vector<double> phase_;
};

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
}  // namespace tearline::scan

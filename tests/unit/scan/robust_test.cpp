#include "core/scan/robust.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tearline::scan {
namespace {

TEST(Tukey, WeightIsItsFormula) {
    // Beaton and Tukey's biweight (1974): (1 - (x/c)^2)^2 inside c, nothing outside.
    EXPECT_DOUBLE_EQ(tukey_weight(0.0), 1.0);
    EXPECT_DOUBLE_EQ(tukey_weight(0.5 * tukey_reach), 0.5625);
    EXPECT_DOUBLE_EQ(tukey_weight(-0.5 * tukey_reach), 0.5625);
    EXPECT_DOUBLE_EQ(tukey_weight(tukey_reach), 0.0);
    EXPECT_DOUBLE_EQ(tukey_weight(100.0), 0.0);
}

TEST(Tukey, WeightsLeadToTheLeastLoss) {
    // Where the loss is least its slope is the weighted residual: loss' (x) = x w(x).
    const double h = 1e-5;
    for (double x = -6.0; x <= 6.0; x += 0.37)
        EXPECT_NEAR((tukey_loss(x + h) - tukey_loss(x - h)) / (2.0 * h), x * tukey_weight(x), 1e-8)
            << x;
    EXPECT_DOUBLE_EQ(tukey_loss(0.0), 0.0);
    EXPECT_DOUBLE_EQ(tukey_loss(50.0), tukey_reach * tukey_reach / 6.0);
}

TEST(Tukey, ReachIsNineteenTwentiethsEfficientOnNormalNoise) {
    // By integration: the variance of the mean over that of this estimate of location is
    // E[psi']^2 / E[psi^2], with psi = x w(x) and its slope (1 - y)(1 - 5 y), y = (x/c)^2.
    double slope = 0.0, square = 0.0;
    const double step = 1e-3;
    for (double x = -tukey_reach; x <= tukey_reach; x += step) {
        const double density = std::exp(-0.5 * x * x) / std::sqrt(2.0 * M_PI) * step;
        const double y = x * x / (tukey_reach * tukey_reach);
        slope += (1.0 - y) * (1.0 - 5.0 * y) * density;
        square += x * x * tukey_weight(x) * tukey_weight(x) * density;
    }
    EXPECT_NEAR(slope * slope / square, 0.95, 5e-4);
}

TEST(Median, IsTheMiddleWhateverTheOrder) {
    std::vector<double> odd{9.0, -4.0, 2.0, 1e9, 3.0}, one{7.0}, none;
    EXPECT_EQ(median(odd), 3.0);
    EXPECT_EQ(median(one), 7.0);
    EXPECT_EQ(median(none), 0.0);
    std::vector<double> even{4.0, 1.0, 3.0, 2.0};
    const double middle = median(even);
    EXPECT_TRUE(middle >= 2.0 && middle <= 3.0) << middle;
}

}  // namespace
}  // namespace tearline::scan

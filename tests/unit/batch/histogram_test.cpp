#include "core/batch/histogram.h"

#include <gtest/gtest.h>

#include <cmath>
#include <regex>

namespace tearline::batch {
namespace {

struct Bar {
    double x, y, wide, high;
    std::string fill;
};

/// The picture read back.
std::vector<Bar> bars_of(const std::string& svg) {
    const std::regex rect(
        R"re(<rect x="([^"]+)" y="([^"]+)" width="([^"]+)" height="([^"]+)" fill="([^"]+)"/>)re");
    std::vector<Bar> bars;
    for (std::sregex_iterator i(svg.begin(), svg.end(), rect), end; i != end; ++i)
        bars.push_back({std::stod((*i)[1]), std::stod((*i)[2]), std::stod((*i)[3]),
                        std::stod((*i)[4]), (*i)[5]});
    return bars;
}

std::vector<double> ten_times(double least, double most) {
    std::vector<double> values;
    for (int i = 0; i < 10; ++i) values.push_back(least + (most - least) * i / 9.0);
    return values;
}

TEST(Histogram, IsNothingOfNothing) {
    EXPECT_EQ(histogram({"none", {}, {}}), "");
}

TEST(Histogram, HasABarAsHighAsItsCount) {
    const std::vector<Bar> bars = bars_of(histogram({"g", {1, 1, 1, 1, 2, 2, 9}, {}}));
    ASSERT_EQ(bars.size(), 3u);
    EXPECT_NEAR(bars[1].high / bars[0].high, 0.5, 0.01);
    EXPECT_NEAR(bars[2].high / bars[0].high, 0.25, 0.01);
    for (const Bar& bar : bars) EXPECT_NEAR(bar.y + bar.high, bars[0].y + bars[0].high, 0.01);
    // Equal steps along the axis: 2 is as far from 1 as an eighth of 9 from 1.
    EXPECT_NEAR((bars[1].x - bars[0].x) / (bars[2].x - bars[0].x), 1.0 / 8.0, 0.002);
}

TEST(Histogram, PutsWhatIsToBeDecidedOnTopInAColourOfItsOwn) {
    const std::vector<Bar> bars = bars_of(histogram({"g", {5, 5, 5}, {5}}));
    ASSERT_EQ(bars.size(), 2u);
    EXPECT_NE(bars[0].fill, bars[1].fill);
    EXPECT_NEAR(bars[1].y + bars[1].high, bars[0].y, 0.01);
    EXPECT_NEAR(bars[0].high / bars[1].high, 3.0, 0.01);
}

TEST(Histogram, HasTenToFiveAndTwentyBinsOfARoundWidth) {
    for (const double most : {0.013, 0.3, 1.0, 7.0, 9.99, 10.0, 48.0, 12345.0}) {
        const std::vector<Bar> bars = bars_of(histogram({"g", ten_times(0.0, most), {}}));
        ASSERT_FALSE(bars.empty());
        // A bar is 0.92 of a bin, the axis 71 mm.
        const double bins = 71.0 / (bars[0].wide / 0.92);
        EXPECT_GE(bins, 9.9) << most;
        EXPECT_LE(bins, 26.1) << most;
        // The tallest bar fills 30 mm; all together are ten counts.
        double all = 0.0, tallest = 0.0, shortest = 1e9;
        for (const Bar& bar : bars) {
            all += bar.high;
            tallest = std::max(tallest, bar.high);
            shortest = std::min(shortest, bar.high);
        }
        EXPECT_NEAR(tallest, 30.0, 0.01);
        EXPECT_NEAR(all / shortest, 10.0, 0.05) << most;  // the shortest is one
    }
}

}  // namespace
}  // namespace tearline::batch

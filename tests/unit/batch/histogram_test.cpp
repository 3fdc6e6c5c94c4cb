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

/// Words of the picture with their places.
struct Word {
    double x, y;
    std::string text;
};

std::vector<Word> words_of(const std::string& svg) {
    const std::regex text(R"re(<text x="([^"]+)" y="([^"]+)"[^>]*>([^<]*)</text>)re");
    std::vector<Word> words;
    for (std::sregex_iterator i(svg.begin(), svg.end(), text), end; i != end; ++i)
        words.push_back({std::stod((*i)[1]), std::stod((*i)[2]), (*i)[3]});
    return words;
}

/// The numbers under the axis, from left to right.
std::vector<Word> axis_of(const std::string& svg) {
    std::vector<Word> axis;
    for (const Word& word : words_of(svg))
        if (word.y > 39.0) axis.push_back(word);
    return axis;
}

TEST(Histogram, NamesItsFigureAndItsTallestCount) {
    std::string words;
    for (const Word& word : words_of(histogram({"Glass, kg <new>", {1, 1, 1, 8}, {1, 1}})))
        if (word.y < 39.0) words += word.text + "|";
    EXPECT_EQ(words, "Glass, kg &lt;new&gt;|5|0|");
}

TEST(Histogram, NumbersOfTheAxisStandWhereBarsOfThatSizeBegin) {
    // 0 to 48 in bins of 2: those of 8 and of 40 begin where the axis says so.
    const std::string svg = histogram({"g", {8, 40, 48}, {}});
    const auto bars = bars_of(svg);
    ASSERT_EQ(bars.size(), 3u);
    const auto axis = axis_of(svg);
    ASSERT_GE(axis.size(), 2u);
    const double a_unit = (axis.back().x - axis.front().x) /
                          (std::stod(axis.back().text) - std::stod(axis.front().text));
    const auto at = [&](double figure) { return axis.front().x + a_unit * figure; };
    EXPECT_EQ(axis.front().text, "0");
    EXPECT_NEAR(bars[0].x, at(8), 0.01);
    EXPECT_NEAR(bars[1].x, at(40), 0.01);
    for (const Word& number : axis) EXPECT_NEAR(number.x, at(std::stod(number.text)), 0.01);
}

TEST(Histogram, HasFiveToEightNumbersUnderItsAxis) {
    for (const double most : {0.013, 0.3, 1.0, 7.0, 10.0, 24.0, 48.0, 49.0, 12345.0}) {
        const auto axis = axis_of(histogram({"g", {most}, {}}));
        EXPECT_GE(axis.size(), 4u) << most;
        EXPECT_LE(axis.size(), 8u) << most;
        for (std::size_t i = 1; i < axis.size(); ++i)
            EXPECT_NE(axis[i].text, axis[i - 1].text) << most << ": too few decimals";
    }
}

TEST(Histogram, OfNoughtsIsOneBar) {
    const auto bars = bars_of(histogram({"g", {0.0, 0.0}, {}}));
    ASSERT_EQ(bars.size(), 1u);
    EXPECT_NEAR(bars[0].high, 30.0, 0.01);
}

TEST(Histogram, CountsWhatIsBelowNoughtAsNought) {
    // A figure of a file that somebody edited must not be counted outside the picture.
    const auto bars = bars_of(histogram({"g", {-5.0, 0.0, 10.0}, {}}));
    ASSERT_EQ(bars.size(), 2u);
    EXPECT_NEAR(bars[0].high, 2.0 * bars[1].high, 0.01);
}

}  // namespace
}  // namespace tearline::batch

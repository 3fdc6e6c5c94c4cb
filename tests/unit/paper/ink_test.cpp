#include "core/paper/ink.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/unit/paper/shapes.h"

namespace tearline::paper {
namespace {

/// Without the words that `outlined` may carry.
Drawing lines_of(Loop2 loop, bool closed) {
    Drawing drawing;
    drawing.lines.push_back({drawing::Role::frame, std::move(loop), closed});
    return drawing;
}

TEST(Ink, HasTheBoundsOfItsLines) {
    const Box box = bounds(lines_of(circle(50.0, {10, 20}), true));
    EXPECT_NEAR((box.low - Vec2(-40, -30)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((box.high - Vec2(60, 70)).norm(), 0.0, 1e-9);
}

TEST(Ink, OfWordsIsTheirBoxHoweverTheyLie) {
    Drawing drawing;
    Drawing::Text words{{100, 100}, {0, 5}, "A WORD"};
    drawing.texts = {words};
    const Box lying = bounds(drawing);
    drawing.texts[0].up = {-5, 0};  // turned by a quarter
    const Box standing = bounds(drawing);
    const Vec2 wide = lying.high - lying.low, tall = standing.high - standing.low;
    EXPECT_GT(wide.x(), wide.y());
    EXPECT_NEAR(tall.x(), wide.y(), 1e-9);
    EXPECT_NEAR(tall.y(), wide.x(), 1e-9);
}

TEST(InkPoints, AreNoFartherApartThanAskedAllAlong) {
    const std::vector<Vec2> open = ink_points(lines_of({{0, 0}, {100, 0}, {100, 33}}, false), 7.0);
    for (std::size_t i = 1; i < open.size(); ++i)
        EXPECT_LE((open[i] - open[i - 1]).norm(), 7.0 + 1e-12);
    EXPECT_EQ(open.front(), Vec2(0, 0));
    EXPECT_EQ(open.back(), Vec2(100, 33));
    // A closed line comes back to where it began, an open one does not.
    const auto on_closing = [](const std::vector<Vec2>& points) {
        return std::any_of(points.begin(), points.end(), [](const Vec2& p) {
            return p.x() > 20.0 && p.x() < 80.0 && p.y() > 5.0;
        });
    };
    EXPECT_FALSE(on_closing(open));
    EXPECT_TRUE(on_closing(ink_points(lines_of({{0, 0}, {100, 0}, {100, 33}}, true), 7.0)));
}

TEST(ThinInk, HasOnePointInEverySquareThatInkPassesAndNoMore) {
    const Drawing drawing = lines_of(circle(97.0), true);
    const std::vector<Vec2> all = ink_points(drawing, 5.0), thin = thin_ink(drawing, 5.0);
    const auto square = [](const Vec2& p) {
        return std::pair(std::floor(p.x() / 5.0), std::floor(p.y() / 5.0));
    };
    for (std::size_t i = 0; i < thin.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) EXPECT_NE(square(thin[i]), square(thin[j]));
    for (const Vec2& p : all)
        EXPECT_TRUE(std::any_of(thin.begin(), thin.end(),
                                [&](const Vec2& q) { return square(p) == square(q); }));
}

TEST(HasInk, SeesALineThatCrossesAndWordsRoundASmallBox) {
    Drawing drawing = lines_of({{-100, 3}, {100, 3}}, false);
    EXPECT_TRUE(has_ink(drawing, {{0, 0}, {5, 5}}));
    EXPECT_FALSE(has_ink(drawing, {{0, 4}, {5, 9}}));
    Drawing words;
    words.texts = {Drawing::Text{{0, 0}, {0, 100}, "WIDE"}};
    EXPECT_TRUE(has_ink(words, {{-1, -1}, {1, 1}}));
    EXPECT_FALSE(has_ink(words, {{-1, 200}, {1, 202}}));
}

TEST(Turns, AreNoneWhereTheTopStaysOnTop) {
    Drawing drawing = lines_of(rectangle(10, 20), true);
    EXPECT_EQ(turns_of(drawing).size(), 2u);
    drawing.up_on_top = true;
    EXPECT_EQ(turns_of(drawing), std::vector<double>{0.0});
}

}  // namespace
}  // namespace tearline::paper

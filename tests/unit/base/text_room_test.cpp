#include "core/base/text_room.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace tearline {

namespace {

/// 20 mm by 4 mm round a middle, turned.
TextBox words_at(const Vec2& middle, double degrees = 0.0) {
    const double a = degrees * std::numbers::pi / 180.0;
    return {middle, 10.0 * Vec2(std::cos(a), std::sin(a)), 2.0 * Vec2(-std::sin(a), std::cos(a))};
}

}  // namespace

TEST(TextRoom, FreePaperCostsNothing) {
    TextRoom room;
    EXPECT_EQ(room.cost(words_at({0, 0})), 0.0);
    room.add_text(words_at({0, 0}));
    room.add_line({{-50, 3}, {50, 3}}, false, TextRoom::on_line);
    // By hand: 4 mm apart line by line they touch, 0.01 mm further they do not.
    EXPECT_EQ(room.cost(words_at({0, -4.01})), 0.0);
}

TEST(TextRoom, WordsOnWordsCostMost) {
    TextRoom room;
    room.add_text(words_at({0, 0}));
    EXPECT_EQ(room.cost(words_at({0, -3.9})), TextRoom::on_words);
    EXPECT_EQ(room.cost(words_at({19.9, 0})), TextRoom::on_words);
    EXPECT_EQ(room.cost(words_at({20.1, 0})), 0.0);
    EXPECT_GT(TextRoom::on_words, TextRoom::on_edge + TextRoom::on_line);
}

TEST(TextRoom, TurnedWordsTakeTheirOwnRoomOnly) {
    TextRoom room;
    room.add_text(words_at({0, 0}, 45.0));
    // The upright box round the turned words reaches 8.5 mm to every corner; the words do not.
    EXPECT_EQ(room.cost(words_at({12.0, -4.0})), 0.0);
    EXPECT_EQ(room.cost(words_at({8.0, 4.0})), TextRoom::on_words);
}

TEST(TextRoom, ALineThroughWordsCostsOnceHoweverManyPointsItHas) {
    TextRoom room;
    std::vector<Vec2> circle;
    for (int i = 0; i < 360; ++i)
        circle.push_back(30.0 * Vec2(std::cos(i * std::numbers::pi / 180.0),
                                     std::sin(i * std::numbers::pi / 180.0)));
    room.add_line(circle, true, TextRoom::on_edge);
    EXPECT_EQ(room.cost(words_at({0, 0})), 0.0);
    EXPECT_EQ(room.cost(words_at({0, 30})), TextRoom::on_edge);
    // Between the last point and the first as well.
    EXPECT_EQ(room.cost({{30, -0.2}, {1, 0}, {0, 0.1}}), TextRoom::on_edge);
}

TEST(TextRoom, AnOpenLineIsNotClosed) {
    TextRoom room;
    room.add_line({{-30, 0}, {0, 30}, {30, 0}}, false, TextRoom::on_line);
    EXPECT_EQ(room.cost(words_at({0, 0})), 0.0);
    TextRoom closed;
    closed.add_line({{-30, 0}, {0, 30}, {30, 0}}, true, TextRoom::on_line);
    EXPECT_EQ(closed.cost(words_at({0, 0})), TextRoom::on_line);
}

TEST(LettersWidth, IsThatOfTheWidestCommonFace) {
    // DejaVu Sans, advances by em from its own table: B 0.686, O 0.787, W 0.989; capitals 0.729.
    EXPECT_NEAR(letters_width("BOW"), (0.686 + 0.787 + 0.989) / 0.729, 0.6);
    // A letter of two bytes is one letter.
    EXPECT_NEAR(letters_width("\u00d6"), letters_width("O"), 0.1);
    EXPECT_EQ(letters_width(""), 0.0);
}

}  // namespace tearline

#include "core/drawing/words_on_piece.h"

#include <gtest/gtest.h>

namespace tearline::drawing {
namespace {

TEST(WordsPlace, LiesOnThePieceAndOnNoLine) {
    // A square of 100 mm with a line across its middle: the word goes beside the line.
    Drawing drawing;
    drawing.lines.push_back({Role::cut, {{0, 0}, {100, 0}, {100, 100}, {0, 100}}, true});
    drawing.lines.push_back({Role::fibre, {{0, 50}, {100, 50}}, false});
    const WordsPlace place = words_place(drawing, {"MIRRORED"}, {8.0, 4.0});
    EXPECT_TRUE(place.free);
    EXPECT_EQ(place.height, 8.0);
    EXPECT_TRUE(place.low.y() > 50.0 || place.low.y() + place.height < 50.0);
    EXPECT_GT(place.low.x(), 0.0);
    EXPECT_LT(place.low.x() + words_width("MIRRORED", place.height), 100.0);
}

TEST(WordsPlace, TakesSmallerLettersOnASmallPieceAndSaysWhenThereIsNoRoom) {
    Drawing drawing;
    drawing.lines.push_back({Role::cut, {{0, 0}, {40, 0}, {40, 15}, {0, 15}}, true});
    EXPECT_LT(words_place(drawing, {"MIRRORED"}, {12.0, 4.0}).height, 12.0);
    drawing.lines.front().points = {{0, 0}, {8, 0}, {8, 2}, {0, 2}};
    EXPECT_FALSE(words_place(drawing, {"MIRRORED"}, {12.0, 4.0}).free);
}

}  // namespace
}  // namespace tearline::drawing

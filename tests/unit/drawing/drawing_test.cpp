#include "core/drawing/drawing.h"

#include <gtest/gtest.h>

#include "core/base/sheet_words.h"
#include "tests/unit/drawing/shapes.h"

namespace tearline::drawing {
namespace {

TEST(Extent, HoldsLinesAndWords) {
    // By hand: words with 20 mm of room from x = 100 on, capitals 4 mm high on a base line at y =
    // 10: 0.3 of a capital below it for commas.
    Drawing drawing = outlined("a", rectangle(50, 30));
    Drawing::Text words{{100, 10}, {0, 4}, "anything"};
    words.from_left = true;
    words.width = 20.0;
    drawing.texts.push_back(words);
    plane::Box box = extent(drawing);
    EXPECT_EQ(box.low, Vec2(0, 0));
    EXPECT_NEAR(box.high.x(), 120.0, 1e-9);
    EXPECT_EQ(box.high.y(), 30.0);
    // The same words about their middle, standing on a side: up is to the left.
    drawing.texts.front().from_left = false;
    drawing.texts.front().up = {-4, 0};
    box = extent(drawing);
    EXPECT_NEAR(box.high.x(), 100.0 + 0.3 * 4.0, 1e-9);
    EXPECT_NEAR(box.high.y(), 30.0, 1e-9);
    EXPECT_NEAR(box.low.y(), 0.0, 1e-9) << "10 mm to either side of y = 10";
}

TEST(Placed, TurnsCounterClockwiseThenMoves) {
    Drawing drawing = outlined("a", {{10, 0}});
    drawing.texts.push_back({{0, 5}, {0, 2}, "x"});
    const Drawing turned = placed(drawing, 90.0, {100, 200});
    EXPECT_LT((turned.lines[0].points[0] - Vec2(100, 210)).norm(), 1e-12);
    EXPECT_LT((turned.texts[0].base - Vec2(95, 200)).norm(), 1e-12);
    EXPECT_LT((turned.texts[0].up - Vec2(-2, 0)).norm(), 1e-12) << "a direction is not moved";
}

TEST(TurnOver, ShowsTheOtherFaceWithEdgesTheirWayRound) {
    Drawing drawing = outlined("a", rectangle(200, 100));
    drawing.lines.push_back({Role::hole, {{20, 20}, {20, 30}, {30, 30}}, true});
    drawing.lines.push_back({Role::arrow, {{150, 50}, {180, 50}}, false});
    drawing.line_word = "CUT";
    drawing.texts.push_back({{40, 60}, {0, 3}, "1A"});
    ASSERT_GT(signed_area(drawing.lines[0].points), 0.0);
    ASSERT_LT(signed_area(drawing.lines[1].points), 0.0);
    turn_over(drawing, false);
    EXPECT_TRUE(drawing.mirrored);
    EXPECT_EQ(drawing.line_word, "MIRRORED CUT");
    EXPECT_NEAR(signed_area(drawing.lines[0].points), 20000.0, 1e-9);
    EXPECT_LT(signed_area(drawing.lines[1].points), 0.0);
    // An arrow keeps its tail and its tip.
    EXPECT_EQ(drawing.lines[2].points.front(), Vec2(-150, 50));
    EXPECT_EQ(drawing.lines[2].points.back(), Vec2(-180, 50));
    ASSERT_EQ(drawing.texts.size(), 1u);
    EXPECT_EQ(drawing.texts[0].base, Vec2(-40, 60));
    EXPECT_TRUE(is_upright(drawing.texts[0])) << "words are not mirrored";
}

TEST(TurnOver, SaysSoOnTheSheetAndInTheLineThatNamesTheFace) {
    Drawing drawing = outlined("a", rectangle(300, 200));
    drawing.texts.push_back({{150, 30}, {0, 3}, face_words});
    turn_over(drawing, true);
    ASSERT_EQ(drawing.texts.size(), 2u);
    EXPECT_EQ(drawing.texts[0].text, mirrored_face_words);
    EXPECT_EQ(drawing.texts[1].text, "MIRRORED");
    for (const Drawing::Text& text : drawing.texts)
        EXPECT_FALSE(runs_through(drawing.lines[0].points, true, text)) << text.text;
}

TEST(RowPlaces, PutsDrawingsSideBySideWithoutOverlap) {
    // By hand: a gap of 20 mm at the left, 100 mm of the first, a gap, 40 mm of the second.
    const std::vector<Drawing> drawings{placed(outlined("a", rectangle(100, 30)), 0.0, {-70, 500}),
                                        outlined("b", circle(20.0, {3, 4}, 360)),
                                        outlined("c", rectangle(10, 10))};
    const std::vector<Vec2> places = row_places(drawings);
    ASSERT_EQ(places.size(), 3u);
    const std::vector<double> lefts{20.0, 140.0, 200.0};
    for (std::size_t i = 0; i < places.size(); ++i) {
        const plane::Box box = extent(placed(drawings[i], 0.0, places[i]));
        EXPECT_NEAR(box.low.x(), lefts[i], 1e-9);
        EXPECT_NEAR(box.low.y(), 20.0, 1e-9);
    }
}

}  // namespace
}  // namespace tearline::drawing

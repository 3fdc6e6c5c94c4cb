#include "core/drawing/place_words.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "tests/unit/drawing/shapes.h"

namespace tearline::drawing {
namespace {

using Place = WordPlacer::Place;

Vec2 middle_of(const Drawing::Text& text) {
    return text.base + 0.5 * text.up;
}

bool overlap(const Drawing::Text& a, const Drawing::Text& b) {
    // Two rectangles are apart when one of their sides' directions parts them.
    const Loop2 first = corners(box_of(a)), second = corners(box_of(b));
    for (const Loop2* loop : {&first, &second})
        for (std::size_t i = 0; i < 2; ++i) {
            const Vec2 way = (*loop)[i + 1] - (*loop)[i];
            const auto [least, most] = std::minmax(
                {first[0].dot(way), first[1].dot(way), first[2].dot(way), first[3].dot(way)});
            const auto [low, high] = std::minmax(
                {second[0].dot(way), second[1].dot(way), second[2].dot(way), second[3].dot(way)});
            if (most <= low || high <= least) return false;
        }
    return true;
}

TEST(WordPlacer, TakesTheFirstOfPlacesThatCostTheSame) {
    Drawing drawing;
    WordPlacer placer(drawing);
    ASSERT_TRUE(placer.put({{upright_words({0, 0}, "a", 3.0), 5.0},
                            {upright_words({50, 0}, "b", 3.0), 2.0},
                            {upright_words({90, 0}, "c", 3.0), 2.0}}));
    ASSERT_EQ(drawing.texts.size(), 1u);
    EXPECT_EQ(drawing.texts.front().text, "b");
}

TEST(WordPlacer, PaysForWordsThatStandOnALineOrOnWords) {
    // A line costs 100 and an edge that is parted 300 (TextRoom): a free place for 99 is cheaper
    // than either, one for 101 dearer than the line and cheaper than the edge.
    for (const auto& [role, cost, taken] :
         {std::tuple(Role::net, 99.0, "beside"), std::tuple(Role::net, 101.0, "on"),
          std::tuple(Role::tear, 101.0, "beside"), std::tuple(Role::tear, 301.0, "on"),
          // A notch and a hole to drill are no lines that words could hide.
          std::tuple(Role::notch, 1.0, "on"), std::tuple(Role::drill, 1.0, "on")}) {
        Drawing drawing;
        drawing.lines.push_back({role, {{-50, 0}, {50, 0}}, false});
        ASSERT_TRUE(WordPlacer(drawing).put({{upright_words({0, 0}, "on", 3.0), 0.0},
                                             {upright_words({0, 40}, "beside", 3.0), cost}}));
        EXPECT_EQ(drawing.texts.front().text, taken) << static_cast<int>(role) << " " << cost;
    }
    Drawing drawing;
    WordPlacer placer(drawing);
    const std::vector<Place> places{{upright_words({0, 0}, "twice", 3.0), 0.0},
                                    {upright_words({0, 40}, "twice", 3.0), 999.0}};
    ASSERT_TRUE(placer.put(places));
    ASSERT_TRUE(placer.put(places)) << "what was put before is in the way";
    EXPECT_EQ(drawing.texts[1].base.y(), 38.5);
}

TEST(WordPlacer, SaysNothingWhereEveryPlaceCostsTooMuch) {
    Drawing drawing;
    drawing.lines.push_back({Role::net, {{-50, 0}, {50, 0}}, false});
    WordPlacer placer(drawing);
    EXPECT_FALSE(placer.put({{upright_words({0, 0}, "on", 3.0), 0.0}}, TextRoom::on_line));
    EXPECT_FALSE(placer.put({{upright_words({0, 40}, "", 3.0), 0.0}})) << "no words, no place";
    EXPECT_TRUE(drawing.texts.empty());
}

TEST(WordPlacer, RepeatsWordsAlongALoopInsideIt) {
    // By hand: 2 pi 100 mm / 150 mm is 4.19: four times, each in its own quarter.
    const Loop2 ring = circle(100.0);
    Drawing drawing = outlined("a", ring);
    WordPlacer(drawing).along(ring, "TEAR 1A", 150.0);
    ASSERT_EQ(drawing.texts.size(), 4u);
    for (const Drawing::Text& text : drawing.texts) {
        EXPECT_LT(middle_of(text).norm(), 100.0);
        EXPECT_GT(middle_of(text).norm(), 90.0) << "close to the line that it names";
        EXPECT_FALSE(runs_through(ring, true, text));
        // Along the ring: its up looks to the middle or away from it.
        EXPECT_NEAR(cross2(text.up.normalized(), middle_of(text).normalized()), 0.0, 0.02);
        EXPECT_GE(text.up.y(), 0.0) << "readable";
    }
}

TEST(WordPlacer, NamesATightLoopInSmallerLettersAndATinyOneNotAtAll) {
    // Rings 3 mm apart: letters of 2.1 mm with 0.75 of it clear, 3.7 mm, do not go between.
    Drawing drawing;
    for (const double radius : {100.0, 97.0, 94.0})
        drawing.lines.push_back({Role::ring, circle(radius), true});
    WordPlacer(drawing).along(circle(100.0), "1", 1000.0);
    ASSERT_EQ(drawing.texts.size(), 1u);
    EXPECT_LT(drawing.texts.front().up.norm(), 2.1);
    for (const Drawing::Line& line : drawing.lines)
        EXPECT_FALSE(runs_through(line.points, true, drawing.texts.front()));
    Drawing tiny = outlined("a", rectangle(2.9, 2.9));
    WordPlacer(tiny).along(tiny.lines.front().points, "1", 10.0);
    EXPECT_TRUE(tiny.texts.empty());
}

TEST(WordPlacer, NamesALineNearItsEnd) {
    Drawing drawing;
    drawing.lines.push_back({Role::tape, {{0, 0}, {200, 0}}, false});
    WordPlacer placer(drawing);
    placer.along_end({0, 0}, {200, 0}, "90");
    ASSERT_EQ(drawing.texts.size(), 1u);
    EXPECT_GT(drawing.texts.front().base.x(), 150.0);
    EXPECT_LT(drawing.texts.front().base.x(), 200.0);
    EXPECT_FALSE(runs_through(drawing.lines.front().points, false, drawing.texts.front()));
    // As long as the words: none.
    placer.along_end({0, 50}, {3, 50}, "90");
    EXPECT_EQ(drawing.texts.size(), 1u);
}

TEST(WordPlacer, NeverPutsWordsOnWordsWhileThereIsRoom) {
    std::mt19937 random(20261129);
    RecordProperty("start_value", 20261129);
    std::uniform_real_distribution<double> at(0.0, 400.0), turn(0.0, 6.28);
    for (int run = 0; run < 20; ++run) {
        SCOPED_TRACE(run);
        Drawing drawing;
        WordPlacer placer(drawing);
        for (int k = 0; k < 30; ++k) {
            const double angle = turn(random);
            const Vec2 outer(at(random), at(random));
            const Vec2 inner = outer + 5.0 * Vec2(std::cos(angle), std::sin(angle));
            placer.put(beside_tick(inner, outer, std::to_string(k)), TextRoom::on_words);
        }
        EXPECT_GT(drawing.texts.size(), 25u);
        for (std::size_t i = 0; i < drawing.texts.size(); ++i)
            for (std::size_t j = 0; j < i; ++j)
                EXPECT_FALSE(overlap(drawing.texts[i], drawing.texts[j]))
                    << drawing.texts[i].text << " on " << drawing.texts[j].text;
    }
}

TEST(Words, AreNeverOnTheirHead) {
    // Whichever way a line runs, words along it have the same middle and look upwards or, along an
    // upright line, to the left.
    for (int k = 0; k < 360; k += 5) {
        const double angle = k * std::numbers::pi / 180.0;
        const Vec2 way(std::cos(angle), std::sin(angle));
        const Drawing::Text words = words_along({30, -20}, way, "1A", 4.0);
        EXPECT_NEAR(words.up.norm(), 4.0, 1e-12);
        EXPECT_NEAR(words.up.dot(way), 0.0, 1e-12);
        EXPECT_GE(words.up.y(), -1e-9) << k;
        EXPECT_LT((middle_of(words) - Vec2(30, -20)).norm(), 1e-12);
    }
    EXPECT_TRUE(is_upwards(words_along({0, 0}, {0, 1}, "1A", 4.0)));
    EXPECT_TRUE(is_upwards(words_along({0, 0}, {0, -1}, "1A", 4.0)));
}

TEST(BesideMarks, StandClearOfTheMarkItselfAtTheFirstPlace) {
    for (int k = 0; k < 24; ++k) {
        const double angle = k * std::numbers::pi / 12.0;
        const Vec2 way(std::cos(angle), std::sin(angle)), tail(10, 20), tip = tail + 30.0 * way;
        const std::vector<Vec2> line{tail, tip};
        for (const auto& places :
             {beside_arrow(tail, tip, "bow"), beside_tick(tip, tail, "3"),
              beside_tape(tip, tail, "A 384"), beside_fibre(tail, tip, "0°")}) {
            const auto least =
                std::min_element(places.begin(), places.end(),
                                 [](const Place& a, const Place& b) { return a.cost < b.cost; });
            EXPECT_EQ(least->cost, 0.0);
            EXPECT_FALSE(runs_through(line, false, least->text)) << least->text.text << " " << k;
            EXPECT_GT(least->text.up.y(), -1e-9) << k;
        }
    }
}

TEST(BesideRing, StandsOutsideItAtEveryPlace) {
    const Loop2 ring = circle(4.0, {7, -3}, 24);
    const auto places = beside_ring(ring, "press here");
    EXPECT_EQ(places.size(), 48u);
    for (const Place& place : places) EXPECT_FALSE(runs_through(ring, true, place.text));
}

TEST(BesideEdge, IsInsideFirstAndOutsideOnlyForMore) {
    const Loop2 ring = circle(60.0);
    for (const Place& place : beside_edge(ring, "TEAR")) {
        const bool inside = middle_of(place.text).norm() < 60.0;
        EXPECT_EQ(inside, place.cost < 40.0) << place.cost;
        if (place.cost < TextRoom::on_edge) {
            EXPECT_FALSE(runs_through(ring, true, place.text));
        }
    }
}

}  // namespace
}  // namespace tearline::drawing

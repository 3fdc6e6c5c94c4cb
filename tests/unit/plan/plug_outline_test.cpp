#include "core/plan/plug_outline.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace tearline::plan {
namespace {

Loop2 box(double x0, double y0, double x1, double y1) {
    return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

templates::Template plug(double width, double height) {
    templates::Template outline;
    outline.net.outer = box(0, 0, width, height);
    return outline;
}

templates::HullEnd end_along(const Vec2& from, const Vec2& to) {
    return {{from, to}};
}

double high_x(const Region2& region) {
    double most = -1e9;
    for (const Vec2& p : region.outer) most = std::max(most, p.x());
    return most;
}

TEST(ShrinkPlug, TakesItsGapOffAllRoundBothFaces) {
    // By hand: 2 mm off every side of 100 x 60 and of 110 x 70.
    templates::Template outline = plug(100, 60);
    outline.cut = Region2{box(-5, -5, 105, 65), {}};
    ASSERT_TRUE(shrink_plug(2.0, outline));
    EXPECT_NEAR(area(outline.net), 96.0 * 56.0, 1e-3 * 96 * 56);
    EXPECT_NEAR(area(*outline.cut), 106.0 * 66.0, 1e-3 * 106 * 66);
    EXPECT_NEAR(outline.area_mm2, 106.0 * 66.0, 1e-3 * 106 * 66) << "of the face it is cut by";
    EXPECT_NEAR(high_x(outline.net), 98.0, 0.01);
}

TEST(ShrinkPlug, RefusesWhatIsTooSmallOrFallsApart) {
    templates::Template small = plug(3, 3);
    const auto gone = shrink_plug(2.0, small);
    ASSERT_FALSE(gone);
    EXPECT_EQ(gone.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(gone.error().message().find("nothing is left of the core plug"), std::string::npos);
    // Two squares with a neck of 3 mm between them.
    templates::Template neck;
    neck.net.outer = {{0, 0},    {40, 0},  {40, 18}, {60, 18}, {60, 0},  {100, 0},
                      {100, 40}, {60, 40}, {60, 21}, {40, 21}, {40, 40}, {0, 40}};
    const auto parted = shrink_plug(2.0, neck);
    ASSERT_FALSE(parted);
    EXPECT_EQ(parted.error().key, "core.gap");
    EXPECT_NE(parted.error().message().find("several"), std::string::npos);
}

TEST(CutBackPlug, EndsShortOfTheHullsEndByTheFill) {
    // By hand: the hull ends along x = 100; 25 of 100 x 60 mm are filled solid.
    templates::Template outline = plug(100, 60);
    outline.cut = outline.net;
    outline.marks = {end_along({100, -200}, {100, 200})};
    const auto filled = cut_back_plug(25.0, outline);
    ASSERT_TRUE(filled) << filled.error().message();
    EXPECT_NEAR(*filled, 25.0 * 60.0, 2.0);
    EXPECT_NEAR(area(outline.net), 75.0 * 60.0, 2.0);
    EXPECT_NEAR(high_x(outline.net), 75.0, 0.02);
    EXPECT_NEAR(high_x(*outline.cut), 75.0, 0.02);
    EXPECT_NEAR(outline.area_mm2, 75.0 * 60.0, 2.0);
    EXPECT_TRUE(outline.marks.empty()) << "its edge lies on the hull's end no more";
}

TEST(CutBackPlug, IsTheSameWhicheverWayTheEndRuns) {
    templates::Template outline = plug(100, 60);
    outline.marks = {end_along({100, 200}, {100, -200})};
    const auto filled = cut_back_plug(25.0, outline);
    ASSERT_TRUE(filled);
    EXPECT_NEAR(*filled, 1500.0, 2.0);
}

TEST(CutBackPlug, FillsRoundAnOpening) {
    // By hand: an opening of 20 x 20 mm in a plug of 100 x 100, 10 mm about it: rounded corners.
    templates::Template outline = plug(100, 100);
    outline.net.holes = {{{40, 40}, {40, 60}, {60, 60}, {60, 40}}};
    const double whole = area(outline.net);
    const auto filled = cut_back_plug(10.0, outline);
    ASSERT_TRUE(filled) << filled.error().message();
    const double least = 4 * 20.0 * 10.0, most = 40.0 * 40.0 - 400.0;
    EXPECT_GE(*filled, least + std::numbers::pi * 100.0 - 10.0);
    EXPECT_LE(*filled, most);
    EXPECT_NEAR(area(outline.net), whole - *filled, 1e-6);
}

TEST(CutBackPlug, DropsTheMarksOfWhatIsGone) {
    templates::Template outline = plug(100, 60);
    outline.marks = {end_along({100, -200}, {100, 200}),
                     templates::Tick{{95, 30}, {105, 30}, "bow"},
                     templates::Tick{{5, 30}, {-3, 30}, "aft"}, templates::Datum{{90, 30}, 4.0}};
    ASSERT_TRUE(cut_back_plug(25.0, outline));
    ASSERT_EQ(outline.marks.size(), 2u);
    const auto* tick = std::get_if<templates::Tick>(&outline.marks[0]);
    ASSERT_TRUE(tick);
    EXPECT_EQ(tick->towards, "aft");
    EXPECT_TRUE(std::holds_alternative<templates::Datum>(outline.marks[1]));
}

TEST(CutBackPlug, LeavesWhatLiesBesideNothingAsItIs) {
    templates::Template outline = plug(100, 60);
    outline.area_mm2 = 6000.0;
    EXPECT_EQ(*cut_back_plug(25.0, outline), 0.0);
    outline.marks = {end_along({100, -200}, {100, 200})};
    EXPECT_EQ(*cut_back_plug(0.0, outline), 0.0);
    EXPECT_EQ(outline.marks.size(), 1u);
    EXPECT_EQ(outline.net.outer.size(), 4u);
}

TEST(CutBackPlug, RefusesAPlugThatWouldBeAllFill) {
    templates::Template outline = plug(20, 60);
    outline.marks = {end_along({20, -200}, {20, 200})};
    const auto refused = cut_back_plug(25.0, outline);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "core.edge_fill");
}

/// A ply over (x, y) of the frame, its height as told.
templates::LaidPly over(const damage::FlatFrame& frame,
                        const std::function<double(double, double)>& height) {
    templates::LaidPly ply;
    ply.pieces.resize(2);
    for (int i = -5; i <= 5; ++i)
        for (int j = -4; j <= 4; ++j) {
            const double x = 20.0 * i, y = 20.0 * j;
            ply.pieces[i < 0 ? 0 : 1].piece.lay.position.push_back(
                frame.middle + x * frame.x + y * frame.y + height(x, y) * frame.normal);
        }
    return ply;
}

TEST(DirectionOfMostBend, IsSquareToTheAxisOfACylinder) {
    // Closed form: z = -t^2 / 2R along a direction f, straight across it; on a frame that stands
    // anywhere. Tilted and lifted it bends as before.
    damage::FlatFrame frame;
    frame.middle = Vec3(1000, -300, 50);
    frame.normal = Vec3(0, -1, 0);
    frame.x = Vec3(1, 0, 0);
    frame.y = Vec3(0, 0, 1);
    for (const double f : {-1.2, -0.4, 0.0, 0.3, 1.1, 1.5}) {
        const auto ply = over(frame, [f](double x, double y) {
            const double t = std::cos(f) * x + std::sin(f) * y;
            return -t * t / (2.0 * 500.0) + 0.1 * x - 0.05 * y + 3.0;
        });
        EXPECT_NEAR(std::sin(direction_of_most_bend(ply, frame) - f), 0.0, 1e-9) << f;
    }
}

TEST(DirectionOfMostBend, OnASaddleIsWhereItBulges) {
    const damage::FlatFrame frame;
    const auto saddle = over(frame, [](double x, double y) { return (x * x - y * y) / 1000.0; });
    EXPECT_NEAR(std::abs(direction_of_most_bend(saddle, frame)), 0.5 * std::numbers::pi, 1e-9);
}

TEST(DirectionOfMostBend, IsNoneWhereItBendsEveryWayAlike) {
    const damage::FlatFrame frame;
    EXPECT_EQ(direction_of_most_bend(over(frame, [](double, double) { return 0.0; }), frame), 0.0);
    const auto dome = over(frame, [](double x, double y) {
        return -(x * x + y * y) / 1000.0 + 4e-6 * x * y;  // less than 0.05 mm over 200 mm
    });
    EXPECT_EQ(direction_of_most_bend(dome, frame), 0.0);
}

}  // namespace
}  // namespace tearline::plan

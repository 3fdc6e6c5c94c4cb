#include "core/layout/nest.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <utility>

#include "core/plane/convex_parts.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/no_fit.h"
#include "core/plane/offset_region.h"
#include "core/plane/room.h"
#include "core/plane/thin_line.h"
#include "tests/support/irregular_shapes.h"

namespace tearline::layout {

namespace {

Loop2 rectangle(double width, double height) {
    return {{0, 0}, {width, 0}, {width, height}, {0, height}};
}

Loop2 placed(const Shape& shape, const Place& place) {
    const double a = place.turn * std::numbers::pi / 180.0;
    Loop2 out;
    for (const Vec2& p : shape.outline)
        out.push_back(Vec2(std::cos(a) * p.x() - std::sin(a) * p.y(),
                           std::sin(a) * p.x() + std::cos(a) * p.y()) +
                      place.move);
    return out;
}

void expect_sound(const std::vector<Shape>& shapes, const Nest& nest, double width, double gap) {
    // Clipper's intersection on the full outlines is independent of the no-fit polygons.
    for (std::size_t i = 0; i < shapes.size(); ++i) {
        ASSERT_TRUE(nest.places[i]) << i;
        const Loop2 a = placed(shapes[i], *nest.places[i]);
        const plane::Box box = plane::box_round(a);
        EXPECT_GE(box.low.x(), -0.01);
        EXPECT_GE(box.low.y(), -0.01);
        EXPECT_LE(box.high.y(), width + 0.01);
        EXPECT_LE(box.high.x(), nest.length + 0.01);
        const auto guard = plane::offset_region({a, {}}, gap - 0.05);
        for (std::size_t j = 0; j < i; ++j)
            EXPECT_TRUE(
                plane::common_region(guard, {{placed(shapes[j], *nest.places[j]), {}}}).empty())
                << i << " and " << j << " are nearer than the gap";
    }
}

}  // namespace

TEST(Nest, PacksRectanglesThatFillTheStrip) {
    // By hand: four 495 x 300 on 1006: two abreast, two rows: 2 x 300 + one gap of 10.
    const std::vector<Shape> shapes(4, Shape{rectangle(300, 495), {0.0}});
    const Nest found = nest(shapes, 1006.0, {.gap = 10.0});
    expect_sound(shapes, found, 1006.0, 10.0);
    EXPECT_NEAR(found.length, 610.0, 3.0);
}

TEST(Nest, TurnsAShapeThatFitsNoOtherWay) {
    const std::vector<Shape> shapes = {{rectangle(300, 1400), {0.0, 90.0}}};
    const Nest found = nest(shapes, 1000.0);
    ASSERT_TRUE(found.places[0]);
    EXPECT_DOUBLE_EQ(found.places[0]->turn, 90.0);
    EXPECT_NEAR(found.length, 1400.0, 0.01);
}

TEST(Nest, LeavesOutWhatIsWiderThanTheStrip) {
    const Nest found =
        nest({{rectangle(1200, 1100), {0.0, 90.0}}, {rectangle(50, 50), {0.0}}}, 1000.0);
    EXPECT_FALSE(found.places[0]);
    EXPECT_TRUE(found.places[1]);
    EXPECT_NEAR(found.length, 50.0, 0.01);
}

TEST(Nest, UsesTheFullWidthOfTheStrip) {
    // A piece as wide as the roll touches both edges: the gap is between pieces only.
    const Nest found = nest({{rectangle(400, 1000), {0.0}}}, 1000.0);
    ASSERT_TRUE(found.places[0]);
    EXPECT_NEAR(found.places[0]->move.y(), 0.0, 0.001);
}

TEST(Nest, FitsAShapeIntoAHollow) {
    // A 400 x 400 angle with 100 mm arms takes a 250 mm square in its corner: no longer than
    // itself.
    const Loop2 angle = {{0, 0}, {400, 0}, {400, 100}, {100, 100}, {100, 400}, {0, 400}};
    const std::vector<Shape> shapes = {{angle, {0.0}}, {rectangle(250, 250), {0.0}}};
    const Nest found = nest(shapes, 400.0);
    expect_sound(shapes, found, 400.0, 5.0);
    EXPECT_NEAR(found.length, 400.0, 0.5);
}

TEST(Nest, IsNeverATenthLongerThanATenTimesLongerSearchFinds) {
    // Start values with few and with many hollow pieces among them; bench_nest has the times.
    for (const auto& [count, seed] : {std::pair{30u, 20u}, {30u, 21u}, {8u, 3u}, {8u, 7u}}) {
        SCOPED_TRACE(testing::Message() << count << " pieces, start value " << seed);
        const std::vector<Shape> shapes = test_support::irregular_shapes(count, seed);
        const Nest found = nest(shapes, 1250.0);
        expect_sound(shapes, found, 1250.0, 5.0);
        const Nest longer = nest(shapes, 1250.0, {.most_passes = 10 * usual_passes(count)});
        EXPECT_LE(longer.length, found.length);
        EXPECT_LE(found.length, 1.10 * longer.length);
    }
}

TEST(Nest, GivesTheSameAnswerTwice) {
    const std::vector<Shape> shapes = test_support::irregular_shapes(8, 7);
    const Nest a = nest(shapes, 1000.0, {.most_passes = 5});
    const Nest b = nest(shapes, 1000.0, {.most_passes = 5});
    for (std::size_t i = 0; i < shapes.size(); ++i) EXPECT_EQ(a.places[i]->move, b.places[i]->move);
}

TEST(Nest, LaysEveryLotOfTheSameShapesAlike) {
    // 400 of two kinds, the larger first: lots of fifty, five of them of one kind, one of both.
    std::vector<Shape> shapes(170, Shape{rectangle(60, 40), {0.0, 90.0}});
    shapes.insert(shapes.end(), 230, Shape{rectangle(110, 70), {0.0, 90.0}});
    const Nest found = nest(shapes, 1000.0, {.gap = 5.0});
    const std::vector<Shape> lot(shapes.end() - 50, shapes.end());
    const Nest alone = nest(lot, 1000.0, {.gap = 5.0});
    for (std::size_t i = 0; i < 200; ++i) {
        const std::size_t behind = i / 50;
        ASSERT_TRUE(found.places[170 + i]);
        const Place& place = *found.places[170 + i];
        const Place& first = *alone.places[i % 50];
        EXPECT_EQ(place.turn, first.turn);
        EXPECT_NEAR(place.move.x(),
                    first.move.x() + static_cast<double>(behind) * (alone.length + 5.0), 1e-9);
        EXPECT_EQ(place.move.y(), first.move.y());
    }
    expect_sound(shapes, found, 1000.0, 5.0);
}

TEST(NoFit, OfTwoSquaresIsTheirMinkowskiSum) {
    // A square of 10 about one of 20: 30 x 30, whichever way it is worked out.
    const auto convex = plane::no_fit(rectangle(20, 20), rectangle(10, 10));
    ASSERT_EQ(convex.size(), 1u);
    EXPECT_NEAR(signed_area(convex[0]), 900.0, 1e-6);
    Loop2 notched = rectangle(20, 20);
    notched.insert(notched.begin() + 1, Vec2(10, 0.001));  // not convex: takes Clipper's way
    const auto general = plane::no_fit(notched, rectangle(10, 10));
    ASSERT_EQ(general.size(), 1u);
    EXPECT_NEAR(signed_area(general[0]), 900.0, 0.1);
}

TEST(NoFit, OfAnAngleKeepsItsHollow) {
    // By hand: the angle swept by a 10 mm square is 410 x 410 without the 300 x 300 of its hollow.
    const Loop2 angle = {{0, 0}, {400, 0}, {400, 100}, {100, 100}, {100, 400}, {0, 400}};
    const auto sum = plane::no_fit(angle, rectangle(10, 10));
    ASSERT_EQ(sum.size(), 1u);
    EXPECT_NEAR(signed_area(sum[0]), 410.0 * 410.0 - 300.0 * 300.0, 0.1);
}

TEST(NoFit, LeavesAPocketFree) {
    // By hand: a frame of 300 mm round a room of 100 mm, slit open by 10 mm: a square of 50 mm has
    // 50 x 50 mm in the room, though it could not be pushed in through the slit.
    const Loop2 frame = {{0, 0},     {145, 0},   {145, 100}, {100, 100}, {100, 200}, {200, 200},
                         {200, 100}, {155, 100}, {155, 0},   {300, 0},   {300, 300}, {0, 300}};
    double room = 0.0;
    for (const Loop2& loop : plane::no_fit(frame, rectangle(50, 50)))
        if (signed_area(loop) < 0.0) room -= signed_area(loop);
    EXPECT_NEAR(room, 2500.0, 0.1);
}

TEST(ConvexParts, CoverALoopAndNothingElse) {
    for (const Shape& shape : test_support::irregular_shapes(12, 5)) {
        const Loop2 loop = plane::thinned(shape.outline, 2.0);
        double area = 0.0;
        for (const Loop2& part : plane::convex_parts(loop)) {
            EXPECT_TRUE(plane::is_convex(part));
            EXPECT_GT(signed_area(part), 0.0);
            area += signed_area(part);
        }
        EXPECT_NEAR(area, signed_area(loop), 1e-6 * area);
    }
}

TEST(ConvexParts, OfAConvexLoopAreTheLoop) {
    EXPECT_EQ(plane::convex_parts(rectangle(20, 10)).size(), 1u);
}

TEST(Guarded, HoldsTheShapeAndHalfTheGap) {
    for (const Shape& shape : test_support::irregular_shapes(5, 3)) {
        const Loop2 guard = plane::guarded(shape.outline, 2.5);
        for (const Vec2& p : shape.outline) EXPECT_TRUE(contains(guard, p));
        EXPECT_GE(plane::distance_to_edge({guard, {}}, shape.outline[0]), 2.5);
    }
}

}  // namespace tearline::layout

#include "core/templates/make_grind_guide.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace tearline::templates {
namespace {

/// A flat square of 200 mm with a corner at the origin, in two triangles.
pieces::Piece square() {
    pieces::Piece piece;
    piece.flat = piece.chart = {{0, 0}, {200, 0}, {200, 200}, {0, 200}};
    for (const Vec2& p : piece.flat) piece.lay.position.emplace_back(p.x(), p.y(), 0.0);
    piece.base = piece.lay.position;
    piece.lay.triangle = {{0, 1, 2}, {0, 2, 3}};
    return piece;
}

GrindGuide guide_of(const std::vector<RingRequest>& rings) {
    const damage::FlatFrame frame;
    return make_grind_guide(square(), frame, directions(frame, {1, 0, 0}, {0, 1, 0}), rings);
}

TEST(GrindGuide, HasARingOnceWhereItRunsAlongTheHullsEnd) {
    // By hand: a ring that rises from (50, 200) over y = 50 to (150, 200) and comes back along the
    // edge at y = 200, whose points lie to either side of it by rounding. The way back is the
    // hull's end and no line of the guide.
    Loop2 loop;
    for (double y = 195; y > 50; y -= 5) loop.emplace_back(50, y);
    for (double x = 50; x < 150; x += 5) loop.emplace_back(x, 50);
    for (double y = 50; y < 200; y += 5) loop.emplace_back(150, y);
    for (int i = 0; i <= 20; ++i)
        loop.emplace_back(150 - 5 * i, 200 + (i % 5 == 2 || i % 5 == 3 ? -1e-9 : 1e-6));
    const GrindGuide guide = guide_of({{{loop}, 2.0, 1}});
    ASSERT_EQ(guide.rings.size(), 2u);  // and the gel coat's
    ASSERT_EQ(guide.rings.front().loops.size(), 1u);
    const auto& line = guide.rings.front().loops.front();
    EXPECT_NEAR(line.front().y(), 195.0, 1e-6);
    EXPECT_NEAR(line.back().y(), 195.0, 1e-6);
    EXPECT_EQ(std::count_if(line.begin(), line.end(), [](const Vec2& p) { return p.y() < 50.1; }),
              21);
}

TEST(GrindGuide, KeepsARingThatClosesNearTheEdge) {
    // By hand: a circle of 99.9 mm about the middle touches no edge within rounding, but lies
    // within a tenth of all four.
    Loop2 loop;
    for (int i = 0; i < 360; ++i)
        loop.push_back(Vec2(100, 100) +
                       99.9 * Vec2(std::cos(i * M_PI / 180), std::sin(i * M_PI / 180)));
    const GrindGuide guide = guide_of({{{loop}, 2.0, 1}});
    ASSERT_EQ(guide.rings.front().loops.size(), 1u);
    EXPECT_EQ(guide.rings.front().loops.front().size(), 360u);
}

}  // namespace
}  // namespace tearline::templates

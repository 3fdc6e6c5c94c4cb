#include "core/templates/seam_laps.h"

#include <gtest/gtest.h>

#include "core/pieces/part_cloth.h"
#include "core/templates/piece_outline.h"
#include "tests/support/analytic_meshes.h"

namespace tearline::templates::seam_laps_test {
namespace {

/// A flat square of 200 mm, its sides parallel to the axes, 20 x 20 cells.
pieces::Piece square() {
    pieces::Piece piece;
    piece.id = "1A";
    constexpr int n = 20;
    const auto id = [](int i, int j) { return j * (n + 1) + i; };
    for (int j = 0; j <= n; ++j)
        for (int i = 0; i <= n; ++i) piece.flat.emplace_back(10.0 * i, 10.0 * j);
    for (int j = 0; j < n; ++j)
        for (int i = 0; i < n; ++i) {
            piece.lay.triangle.push_back({id(i, j), id(i + 1, j), id(i + 1, j + 1)});
            piece.lay.triangle.push_back({id(i, j), id(i + 1, j + 1), id(i, j + 1)});
        }
    piece.chart = piece.flat;
    for (const Vec2& p : piece.flat) piece.lay.position.emplace_back(p.x(), p.y(), 0.0);
    piece.base = piece.lay.position;
    return piece;
}

Vec2 high(const Loop2& loop) {
    Vec2 corner = loop.front();
    for (const Vec2& p : loop) corner = corner.cwiseMax(p);
    return corner;
}

TEST(SeamLaps, ReachOverTheSeamAndNowhereElse) {
    // By hand: a strip of 25 x 200 mm outside the right side.
    pieces::Piece piece = square();
    piece.seams = {{{200.0, -10.0}, {200.0, 210.0}}};
    const Region2 cut = with_laps(piece, net_region(piece), 25.0);
    EXPECT_NEAR(area(cut), 200.0 * 200.0 + 25.0 * 200.0, 1e-3);
    EXPECT_NEAR(high(cut.outer).x(), 225.0, 1e-6);
    EXPECT_NEAR(high(cut.outer).y(), 200.0, 1e-6);
}

TEST(SeamLaps, LeaveNoSlitWhereTheNetLineIsDrawnFinerThanTheMesh) {
    // The net line is an arc through the mesh's points, here two hundredths to one side or the
    // other of the seam's straight edges: a knife must still not be sent along the seam.
    pieces::Piece piece = square();
    piece.seams = {{{200.0, -10.0}, {200.0, 210.0}}};
    Region2 net = net_region(piece);
    for (const double bulge : {0.02, -0.02}) {
        Region2 finer;
        for (std::size_t i = 0; i < net.outer.size(); ++i) {
            const Vec2 &a = net.outer[i], &b = net.outer[(i + 1) % net.outer.size()];
            finer.outer.push_back(a);
            if (a.x() == 200.0 && b.x() == 200.0)
                finer.outer.push_back(0.5 * (a + b) + Vec2(bulge, 0.0));
        }
        const Region2 cut = with_laps(piece, finer, 25.0);
        EXPECT_TRUE(cut.holes.empty());
        for (const Vec2& p : cut.outer)
            EXPECT_TRUE(std::abs(p.x() - 200.0) > 1.0 || p.y() < 0.1 || p.y() > 199.9)
                << p.transpose();
        EXPECT_NEAR(area(cut), 225.0 * 200.0, 0.1);
    }
}

TEST(SeamLaps, MeetInAMitreWhereTwoSeamsMeet) {
    // By hand: two strips and the square between them.
    pieces::Piece piece = square();
    piece.seams = {{{200.0, -10.0}, {200.0, 210.0}}, {{-10.0, 200.0}, {210.0, 200.0}}};
    const Region2 cut = with_laps(piece, net_region(piece), 25.0);
    EXPECT_NEAR(area(cut), 225.0 * 225.0, 1e-3);
}

TEST(SeamLaps, EndWhereThePlyDoes) {
    // By hand: a seam that leaves the outline at an angle, either way. The ply's other piece goes
    // on between the lines y = 0 and y = 200, and so does the lap.
    for (const double slant : {0.4, -0.4}) {
        pieces::Piece piece = square();
        for (Vec2& p : piece.flat) p.x() += slant * (p.y() - 100.0);
        piece.seams = {{{200.0, -10.0}, {200.0, 210.0}}};  // in the chart, which is not slanted
        const Region2 cut = with_laps(piece, net_region(piece), 25.0);
        const double along = std::hypot(1.0, slant);  // 25 mm square to the seam
        EXPECT_NEAR(area(cut), 200.0 * (200.0 + 25.0 * along), 1e-3);
        EXPECT_NEAR(high(cut.outer).y(), 200.0, 1e-6);
        for (const Vec2& p : cut.outer) EXPECT_GE(p.y(), -1e-6);
    }
}

TEST(SeamLaps, EndWithTheBendOfTheOutline) {
    // The upper edge an arc of 250 mm radius that falls away past the seam: the lap's upper end
    // lies on the circle, where a straight end would be 4.6 mm off.
    pieces::Piece piece = square();
    const double radius = 250.0;
    const auto arc = [&](double x) { return std::sqrt(radius * radius - x * x); };
    for (Vec2& p : piece.flat) p.y() *= arc(p.x()) / 200.0;
    piece.seams = {{{200.0, -10.0}, {200.0, 210.0}}};
    const Region2 cut = with_laps(piece, net_region(piece), 20.0);
    double top = 0.0;
    for (const Vec2& p : cut.outer)
        if (p.x() > 219.0) top = std::max(top, p.y());
    EXPECT_NEAR(top, arc(220.0), 0.5);
}

TEST(SeamLaps, LeaveAPieceWithoutSeamsAsItIs) {
    const pieces::Piece piece = square();
    const Region2 net = net_region(piece);
    EXPECT_EQ(with_laps(piece, net, 25.0).outer, net.outer);
}

TEST(ReliefCuts, EndInARoundAndRunOutThroughTheTornBand) {
    // A dart opened by hand, 4 mm wide at the mouth on the left side, tip 100 mm in.
    pieces::Piece piece = square();
    pieces::PieceCut cut;
    const std::size_t mouth = piece.flat.size();
    piece.flat.emplace_back(0.0, 102.0);
    piece.flat.emplace_back(0.0, 98.0);
    piece.flat.emplace_back(100.0, 100.0);
    const auto v = static_cast<std::int32_t>(mouth);
    cut.sides = {{v, v + 1}, {v + 2, v + 2}};
    cut.opening = 4.0;
    piece.cuts = {cut};
    const auto drawn = relief_cuts(piece, 20.0);
    ASSERT_EQ(drawn.size(), 1u);
    EXPECT_EQ(drawn[0].kind, "dart");
    EXPECT_NEAR(drawn[0].points.front().x(), -20.0, 0.01);
    EXPECT_NEAR(drawn[0].points.back().x(), -20.0, 0.01);
    // The end is a circle of 3 mm about the tip: no point nearer, the farthest in 3 mm past it.
    for (const Vec2& p : drawn[0].points) EXPECT_GE((p - piece.flat[mouth + 2]).norm(), 3.0 - 1e-9);
    EXPECT_NEAR(high(drawn[0].points).x(), 103.0, 0.1);
    piece.cuts[0].opening = -4.0;
    EXPECT_EQ(relief_cuts(piece, 20.0)[0].kind, "slit");
}

}  // namespace
}  // namespace tearline::templates::seam_laps_test

#include "core/parallel/trim_strip.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/parallel/tolerances.h"
#include "core/parallel/trim_corner.h"

namespace tearline::parallel::trim_strip_test {
namespace {

/// A node of a strip along the chart's x axis.
StripNode node(double along, double left, double right) {
    StripNode out;
    out.along = along;
    out.centre = Vec2(along, 0);
    out.ridge.left.chart = Vec2(along, left);
    out.ridge.right.chart = Vec2(along, -right);
    out.section = {Vec3(along, 0, 0), Vec3(1, 0, 0)};
    out.tip = left == 0.0 && right == 0.0;
    return out;
}

/// From a tip at 0 up to 10 mm wide to the left and 4 to the right at 20, as wide to 60, and to a
/// tip at 100.
TrimStrip strip() {
    TrimStrip out;
    out.nodes = {node(0, 0, 0), node(20, 10, 4), node(60, 10, 4), node(100, 0, 0)};
    return out;
}

TEST(TrimStrip, IsStraightBetweenItsNodes) {
    const TrimStrip trim = strip();
    EXPECT_LT((trim.edge_point(Side::left, 10.0) - Vec2(10, 5)).norm(), 1e-12);
    EXPECT_LT((trim.edge_point(Side::right, 10.0) - Vec2(10, -2)).norm(), 1e-12);
    EXPECT_LT((trim.edge_point(Side::left, 45.0) - Vec2(45, 10)).norm(), 1e-12);
    EXPECT_LT((trim.edge_point(Side::right, 90.0) - Vec2(90, -1)).norm(), 1e-12);
    EXPECT_LT((trim.centre_point(33.0) - Vec2(33, 0)).norm(), 1e-12);
    // Past its ends it is as it is there.
    EXPECT_LT((trim.edge_point(Side::left, -5.0) - Vec2(0, 0)).norm(), 1e-12);
    EXPECT_LT((trim.edge_point(Side::left, 140.0) - Vec2(100, 0)).norm(), 1e-12);
}

TEST(TrimStrip, SectionsTurnFromNodeToNode) {
    TrimStrip trim = strip();
    trim.nodes[2].section.normal = Vec3(0, 1, 0);
    const Section half = trim.section_at(40.0);
    EXPECT_LT((half.point - Vec3(40, 0, 0)).norm(), 1e-12);
    EXPECT_LT((half.normal - Vec3(1, 1, 0).normalized()).norm(), 1e-12);
    EXPECT_NEAR(trim.section_at(50.0).normal.norm(), 1.0, 1e-12);
}

TEST(TrimStrip, CoversWhatLiesBetweenCreaseAndEdgeOfThatSide) {
    const TrimStrip trim = strip();
    // Second route: the width by proportion, wherever one asks.
    for (double x = 0.7; x < 100.0; x += 3.1)
        for (double y = -12.3; y < 13.0; y += 1.7) {
            const double share = x < 20 ? x / 20 : x < 60 ? 1.0 : (100 - x) / 40;
            EXPECT_EQ(trim.covers(Side::left, {x, y}), y >= 0.0 && y <= 10.0 * share)
                << x << " " << y;
            EXPECT_EQ(trim.covers(Side::right, {x, y}), y <= 0.0 && y >= -4.0 * share)
                << x << " " << y;
        }
    EXPECT_FALSE(trim.covers(Side::left, {-1, 0}));
    EXPECT_FALSE(trim.covers(Side::right, {101, 0}));
}

TEST(TrimStrip, IsCrossedLastWhereASegmentLeavesIt) {
    const TrimStrip trim = strip();
    // By hand: up from the crease at x = 30 the edge lies 10 mm off, a fifth of the way to 50.
    const auto up = trim.cross(Side::left, {30, 0}, {30, 50});
    EXPECT_NEAR(up.share, 0.2, 1e-12);
    EXPECT_NEAR(up.along, 30.0, 1e-12);
    // Along y = 5 from before its first tip it goes in at 10 and comes out at 80.
    const auto through = trim.cross(Side::left, {-20, 5}, {120, 5});
    EXPECT_NEAR(through.share, 100.0 / 140.0, 1e-12);
    EXPECT_NEAR(through.along, 80.0, 1e-12);
    const auto back = trim.cross(Side::left, {120, 5}, {-20, 5});
    EXPECT_NEAR(back.along, 10.0, 1e-12);
    // Not on the other side, not where it stops short, not beside it.
    EXPECT_LT(trim.cross(Side::right, {30, 0}, {30, 50}).share, 0.0);
    EXPECT_LT(trim.cross(Side::left, {30, 0}, {30, 9.9}).share, 0.0);
    EXPECT_LT(trim.cross(Side::left, {-20, 11}, {120, 11}).share, 0.0);
    // A segment along the edge crosses it nowhere.
    EXPECT_LT(trim.cross(Side::left, {25, 10}, {55, 10}).share, 0.0);
}

TEST(TrimCorner, HasAFootASheetAndNoOther) {
    TrimCorner corner;
    corner.feet.resize(3);
    for (int i = 0; i < 3; ++i) {
        corner.feet[static_cast<std::size_t>(i)].copy = CopyId(10 + i);
        corner.feet[static_cast<std::size_t>(i)].foot.chart = Vec2(i, 2 * i);
    }
    EXPECT_EQ(corner.foot_of(CopyId(11)).chart, Vec2(1, 2));
    EXPECT_THROW((void)corner.foot_of(CopyId(13)), std::logic_error);
}

/// A crease line along the chart's x axis with a turn at each vertex, 10 mm apart.
struct Line {
    CreaseLine line;
    std::vector<Vec2> chart;

    Line(const std::vector<double>& turns, bool starts_on_rim, bool ends_on_rim) {
        for (std::size_t i = 0; i < turns.size(); ++i) {
            CreaseVertex v;
            v.vertex = VertexId(i);
            v.turn = turns[i];
            v.along = 10.0 * static_cast<double>(i);
            line.vertices.push_back(v);
            chart.emplace_back(v.along, 0.0);
        }
        line.starts_on_rim = starts_on_rim;
        line.ends_on_rim = ends_on_rim;
    }
    [[nodiscard]] std::vector<CreaseWay> ways(const DepthAtChart& depth) const {
        return crease_ways(line, chart, depth);
    }
};

constexpr CreaseWay mitre = CreaseWay::mitre, trimmed = CreaseWay::trimmed,
                    opened = CreaseWay::opened;

TEST(CreaseWays, BelowAConvexCreaseAreTrimmedAndBelowAHollowOneOpened) {
    // By hand: at a depth d a turn t loses 2 d tan(t / 2) to both sheets together.
    const auto deep = [](const Vec2&) { return 5.0; };
    const auto proud = [](const Vec2&) { return -5.0; };
    const Line convex({0.5, 0.5, 0.5, 0.5}, true, true), hollow({-0.5, -0.5, -0.5}, true, true);
    EXPECT_EQ(convex.ways(deep), std::vector(4, trimmed));
    EXPECT_EQ(hollow.ways(deep), std::vector(3, opened));
    // Above the surface it is the other way about.
    EXPECT_EQ(convex.ways(proud), std::vector(4, opened));
    EXPECT_EQ(hollow.ways(proud), std::vector(3, trimmed));
    EXPECT_EQ(convex.ways([](const Vec2&) { return 0.0; }), std::vector(4, mitre));
}

TEST(CreaseWays, EndInsideASheetWhole) {
    // The last vertex of a crease that fades out, or one where others meet it, stays one point.
    const auto deep = [](const Vec2&) { return 5.0; };
    EXPECT_EQ(Line({0.5, 0.5, 0.5, 0.5}, false, true).ways(deep),
              (std::vector{mitre, trimmed, trimmed, trimmed}));
    EXPECT_EQ(Line({-0.5, -0.5, -0.5}, true, false).ways(deep),
              (std::vector{opened, opened, mitre}));
}

TEST(CreaseWays, TrimFromTheLeastThatCanBeCut) {
    // By hand: the turn at which 2 d tan(t / 2) is the least strip.
    constexpr double d = 4.0;
    const double turn = 2.0 * std::atan(0.5 * tolerance::least_trim / d);
    const auto deep = [](const Vec2&) { return d; };
    const double low = 0.999 * turn, high = 1.001 * turn;
    EXPECT_EQ(Line({low, low, low}, true, true).ways(deep), std::vector(3, mitre));
    EXPECT_EQ(Line({high, high, high}, true, true).ways(deep), std::vector(3, trimmed));
}

TEST(CreaseWays, DoNotGoFromTrimmedToOpenedWithoutAPlaceBetween) {
    // Where the depth changes sign along the line the shallower of both neighbours is no strip.
    const Line line({0.5, 0.5, 0.5, 0.5, 0.5, 0.5}, true, true);
    const auto ways = line.ways([](const Vec2& p) { return 6.0 - 0.26 * p.x(); });
    // By hand: 6, 3.4, 0.8, -1.8, -4.4, -7.
    EXPECT_EQ(ways, (std::vector{trimmed, trimmed, mitre, opened, opened, opened}));
}

}  // namespace
}  // namespace tearline::parallel::trim_strip_test

#include "core/ground/mark_ways.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/hull/read_hull.h"
#include "core/job/read_job.h"

namespace tearline::ground {
namespace {

/// A repair at the developed place (x, y) of a side of a radius across (0: flat), its marks `apart`
/// by tape on the line through the middle of the batten.
struct Laid {
    Ground ground;
    std::vector<templates::TapeWay> ways;
    std::string codes;

    Laid(double radius, double apart, const Vec2& centre) {
        const double gap =
            radius == 0.0 ? 0.0 : radius - std::sqrt(radius * radius - 500.0 * 500.0);
        const std::string text =
            "[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 8\n[hull.measured]\nbatten = 1000\n"
            "gap_along = 0\ngap_across = " +
            std::to_string(gap) + "\n[marks.A]\n[marks.B]\nA = " + std::to_string(apart) +
            "\n[damage]\ncentre = [" + std::to_string(centre.x()) + ", " +
            std::to_string(radius == 0.0 ? centre.y() : radius * std::sin(centre.y() / radius)) +
            "]\nradius = 60\ndepth = 3.15234375\n[layup]\ncover = []\n";
        const auto job = job::parse_job(text, "marks.toml");
        EXPECT_TRUE(job) << job.error().message();
        const auto hull = hull::read_hull(job->hull, job->damage.side);
        EXPECT_TRUE(hull) << hull.error().message();
        const auto placed = place_points(*job, *hull);
        EXPECT_TRUE(placed) << placed.error().message();
        auto laid = lay_ground(placed->job, *hull);
        EXPECT_TRUE(laid) << laid.error().message();
        ground = std::move(*laid);
        const MarkWays found = mark_ways(*placed, ground);
        ways = found.ways;
        for (const Warning& warning : found.warnings) codes += std::string(warning.code()) + " ";
    }
};

TEST(MarkWays, AreTheTapesFromTheMiddleToEachMark) {
    // In the developed plane, by Pythagoras: marks at -300 and 300 on the line through the middle.
    for (const double radius : {0.0, 900.0}) {
        const Vec2 centre(40.0, 90.0);
        const Laid laid(radius, 600.0, centre);
        ASSERT_EQ(laid.ways.size(), 2u);
        EXPECT_EQ(laid.ways[0].mark, "A");
        EXPECT_EQ(laid.ways[1].mark, "B");
        EXPECT_NEAR(laid.ways[0].length, (centre - Vec2(-300, 0)).norm(), 0.1);
        EXPECT_NEAR(laid.ways[1].length, (centre - Vec2(300, 0)).norm(), 0.1);
        EXPECT_EQ(laid.codes, "");
    }
}

TEST(MarkWays, AreFollowedAsFarAsTheRepairIsMeshed) {
    const Laid laid(0.0, 600.0, {0.0, 0.0});
    for (const templates::TapeWay& way : laid.ways) {
        ASSERT_GT(way.chart.size(), 2u);
        // Steps of one length, from the middle of the damage on.
        EXPECT_LT((way.chart.front() - laid.ground.frame.chart).norm(), 0.05);
        for (std::size_t i = 1; i < way.chart.size(); ++i)
            EXPECT_NEAR((way.chart[i] - way.chart[i - 1]).norm(), way.spacing, 0.02 * way.spacing);
        EXPECT_GT(way.spacing * static_cast<double>(way.chart.size() - 1),
                  60.0 + laid.ground.footprint_offset);
    }
}

TEST(MarkWays, TellOfAMarkThatTheRepairTakesAway) {
    // By hand: the disc reaches 60 mm and the scarf 12 x 3.15 mm; marks 160 mm apart stand in both.
    const Laid laid(0.0, 160.0, {0.0, 0.0});
    EXPECT_EQ(laid.codes, "mark-in-repair mark-in-repair ");
}

}  // namespace
}  // namespace tearline::ground

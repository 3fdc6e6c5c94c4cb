#include "core/ground/place_points.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/hull/read_hull.h"
#include "core/job/read_job.h"

namespace tearline::ground {
namespace {

/// A hull told by a batten of 1000 mm, straight along and of a radius across (0: flat), its marks A
/// and B 600 mm apart by tape; up is +y.
std::string by_tape(double radius, const std::string& points) {
    const double gap = radius == 0.0 ? 0.0 : radius - std::sqrt(radius * radius - 500.0 * 500.0);
    return "[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 8\n[hull.measured]\nbatten = 1000\n"
           "gap_along = 0\ngap_across = " +
           std::to_string(gap) + "\n[marks.A]\n[marks.B]\nA = 600\n[damage]\ndepth = 4\n" + points;
}

Result<PlacedJob> placed(const std::string& text) {
    const auto job = job::parse_job(text, "taped.toml");
    if (!job) return tl::unexpected(job.error());
    const auto hull = hull::read_hull(job->hull, job->damage.side);
    if (!hull) return tl::unexpected(hull.error());
    return place_points(*job, *hull);
}

/// Where tapes of a and b from A and B meet in the developed plane, by Pythagoras.
Vec2 meeting(double a, double b, double side) {
    const double x = (a * a - b * b) / (2.0 * 600.0);
    return {x, side * std::sqrt(a * a - (x + 300.0) * (x + 300.0))};
}

TEST(PlacePoints, MarksStandHalfTheirDistanceAftAndForward) {
    const auto found = placed(by_tape(0.0, "centre = [0, 0]\nradius = 50\n"));
    ASSERT_TRUE(found) << found.error().message();
    ASSERT_EQ(found->job.marks.size(), 2u);
    EXPECT_LT((*found->job.marks[0].at - Vec3(-300, 0, 0)).norm(), 1e-3);
    EXPECT_LT((*found->job.marks[1].at - Vec3(300, 0, 0)).norm(), 1e-3);
    EXPECT_TRUE(found->job.taped.empty());
}

TEST(PlacePoints, TapesMeetWhereTheirArcsCrossOnTheSideThatIsSaid) {
    const std::string points =
        "centre = {A = 320, B = 350, side = \"down\"}\nradius = 50\n"
        "[layup]\npress_first = {A = 340, B = 330, side = \"up\"}\n";
    const auto found = placed(by_tape(0.0, points));
    ASSERT_TRUE(found) << found.error().message();
    EXPECT_LT((found->job.damage.centre->head<2>() - meeting(320, 350, -1.0)).norm(), 0.02);
    EXPECT_LT((found->job.layup.press_first->head<2>() - meeting(340, 330, 1.0)).norm(), 0.02);
}

TEST(PlacePoints, TapesFollowARoundSide) {
    // On a cylinder of radius R about the bow direction the plane of the tapes is rolled up: y of
    // the plane is the arc, R sin(y/R) up and R (1 - cos(y/R)) back.
    constexpr double R = 900.0;
    const auto found =
        placed(by_tape(R, "centre = {A = 420, B = 400, side = \"up\"}\nradius = 50\n"));
    ASSERT_TRUE(found) << found.error().message();
    const Vec2 flat = meeting(420, 400, 1.0);
    const Vec3 rolled(flat.x(), R * std::sin(flat.y() / R), -R * (1.0 - std::cos(flat.y() / R)));
    EXPECT_LT((*found->job.damage.centre - rolled).norm(), 0.1);
}

TEST(PlacePoints, PutsEveryPointInItsOwnPlace) {
    std::string points = "outline = [";
    const std::vector<std::pair<int, int>> tapes{{340, 390}, {330, 330}, {390, 340}};
    for (const auto& [a, b] : tapes)
        points += "{A = " + std::to_string(a) + ", B = " + std::to_string(b) + ", side = \"up\"}, ";
    points += "]\n";
    for (int i = 0; i < 5; ++i)
        points += "[[damage.sounding]]\ndepth = 2\nat = {A = " + std::to_string(340 + 10 * i) +
                  ", B = 350, side = \"up\"}\n";
    const auto found = placed(by_tape(0.0, points));
    ASSERT_TRUE(found) << found.error().message();
    for (std::size_t i = 0; i < 3; ++i)
        EXPECT_LT(
            (found->job.damage.outline[i].head<2>() - meeting(tapes[i].first, tapes[i].second, 1.0))
                .norm(),
            0.02)
            << i;
    for (std::size_t i = 0; i < 5; ++i)
        EXPECT_LT((found->job.damage.soundings[i].at.head<2>() -
                   meeting(340.0 + 10.0 * static_cast<double>(i), 350, 1.0))
                      .norm(),
                  0.02)
            << i;
}

TEST(PlacePoints, NamesTheLineOfTapesThatCannotMeet) {
    const auto found =
        placed(by_tape(0.0, "centre = {A = 120, B = 400, side = \"up\"}\nradius = 50\n"));
    ASSERT_FALSE(found);
    EXPECT_EQ(found.error().key, "damage.centre") << found.error().message();
    EXPECT_EQ(found.error().line, 14);
}

TEST(PlacePoints, RefusesMarksBesideWhatWasMeasured) {
    std::string text = by_tape(0.0, "centre = [0, 0]\nradius = 50\n");
    text.replace(text.find("A = 600"), 7, "A = 1600");
    const auto found = placed(text);
    ASSERT_FALSE(found);
    EXPECT_NE(found.error().message().find("stands outside the hull that was measured"),
              std::string::npos);
}

}  // namespace
}  // namespace tearline::ground

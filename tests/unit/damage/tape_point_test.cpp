#include "core/damage/tape_point.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/analytic_patch.h"

namespace tearline::damage {
namespace {

using test::analytic_patch;
using test::within_disc;

/// Great-circle distance by the angle between the normals.
double on_sphere(double R, const Vec3& a, const Vec3& b) {
    const Vec3 centre(0, 0, -R);
    return R * std::atan2((a - centre).cross(b - centre).norm(), (a - centre).dot(b - centre));
}

TapeLine tape(const surface::Patch& patch, const std::string& mark, const Vec2& at, double length) {
    return {mark, *patch.locate(at), length};
}

Vec3 place(const surface::Patch& patch, const Vec2& chart) {
    return patch.sample(*patch.locate(chart)).position;
}

TEST(TapePoint, IsExactOnASphere) {
    // Expected distances: great circles, in closed form.
    constexpr double R = 700.0;
    const auto patch = analytic_patch(test::sphere_map(R), within_disc(420), 420, 12);
    const Vec2 a(-300, -20), b(290, 40);
    for (const Vec2& p : {Vec2(10, 120), Vec2(-60, 200), Vec2(140, -90), Vec2(0, -230)}) {
        const Vec3 goal = place(patch, p);
        const auto found = tape_point(patch,
                                      {tape(patch, "A", a, on_sphere(R, place(patch, a), goal)),
                                       tape(patch, "B", b, on_sphere(R, place(patch, b), goal))},
                                      Vec3(0, p.y() > 0 ? 1 : -1, 0), "damage.centre");
        ASSERT_TRUE(found) << found.error().message();
        EXPECT_LT((found->position - goal).norm(), 0.02) << p.transpose();
        EXPECT_TRUE(found->warnings.empty());
    }
}

TEST(TapePoint, IsExactOnACylinder) {
    // A cylinder unrolls: distances are those of the chart.
    for (const double R : {300.0, 90.0, -400.0}) {
        const auto patch = analytic_patch(test::cylinder_map(R), within_disc(250), 250, 8);
        const Vec2 a(-180, -40), b(170, 30);
        for (const Vec2& p : {Vec2(20, 110), Vec2(-90, 70), Vec2(60, -120)}) {
            const auto found = tape_point(
                patch, {tape(patch, "A", a, (p - a).norm()), tape(patch, "B", b, (p - b).norm())},
                Vec3(0, p.y() > 0 ? 1 : -1, 0), "damage.centre");
            ASSERT_TRUE(found) << found.error().message();
            EXPECT_LT((found->position - place(patch, p)).norm(), 0.02)
                << R << " " << p.transpose();
        }
    }
}

TEST(TapePoint, ThirdTapeTellsTheSideAndIsJudged) {
    const auto patch = analytic_patch(test::plane_map, within_disc(250), 250, 12);
    const Vec2 a(-150, 0), b(150, 0), c(0, -200), p(40, 90);
    const auto lines = [&](double error) {
        return std::vector<TapeLine>{tape(patch, "A", a, (p - a).norm()),
                                     tape(patch, "B", b, (p - b).norm()),
                                     tape(patch, "C", c, (p - c).norm() + error)};
    };
    const auto found = tape_point(patch, lines(0.0), Vec3::Zero(), "damage.centre");
    ASSERT_TRUE(found) << found.error().message();
    EXPECT_LT((found->position - Vec3(40, 90, 0)).norm(), 0.01);
    const auto wrong = tape_point(patch, lines(40.0), Vec3::Zero(), "damage.centre");
    ASSERT_FALSE(wrong);
    EXPECT_NE(wrong.error().message().find("do not meet in one place"), std::string::npos);
}

TEST(TapePoint, DistancesThatCannotMeetAreRefusedWithTheShortfall) {
    const auto patch = analytic_patch(test::plane_map, within_disc(250), 250, 12);
    const Vec2 a(-150, 0), b(150, 0);  // 300 mm apart
    const auto at = [&](double from_a, double from_b, const Vec3& side) {
        return tape_point(patch, {tape(patch, "A", a, from_a), tape(patch, "B", b, from_b)}, side,
                          "damage.outline[3]");
    };
    const auto message = [](const Result<TapedPlace>& result) {
        return result ? std::string("found") : result.error().message();
    };
    const std::string shorter = message(at(120, 150, {0, 1, 0}));
    EXPECT_NE(shorter.find("damage.outline[3]: A and B are 300.0 mm apart"), std::string::npos);
    EXPECT_NE(shorter.find("are 30.0 mm short of meeting"), std::string::npos) << shorter;
    // From A as far as beyond B, from B not far enough to get there.
    const std::string beyond = message(at(400, 70, {0, 1, 0}));
    EXPECT_NE(beyond.find("the tape from B (70.0 mm) is 30.0 mm short of reaching"),
              std::string::npos)
        << beyond;
    EXPECT_NE(message(at(200, 200, {1, 0, 0})).find("damage.outline[3].side"), std::string::npos);
    EXPECT_NE(message(at(900, 900, {0, 1, 0})).find("run off the hull"), std::string::npos);
}

TEST(TapePoint, WarnsWhereTapesMeetFlat) {
    const auto patch = analytic_patch(test::plane_map, within_disc(250), 250, 12);
    const Vec2 a(-150, 0), b(150, 0), p(0, 10);  // each 3.8 degrees off the line
    const auto found = tape_point(
        patch, {tape(patch, "A", a, (p - a).norm()), tape(patch, "B", b, (p - b).norm())},
        Vec3(0, 1, 0), "damage.centre");
    ASSERT_TRUE(found) << found.error().message();
    ASSERT_EQ(found->warnings.size(), 1u);
    EXPECT_EQ(found->warnings.front().code(), "tapes-meet-flat");
    EXPECT_LT((found->position - Vec3(0, 10, 0)).norm(), 0.05);
}

TEST(TapePoint, SaysWhatToDoWhereTapesRunInOneLine) {
    const auto patch = analytic_patch(test::plane_map, within_disc(250), 250, 12);
    const Vec2 a(-150, 0), b(150, 0), p(0, 1);  // each 0.4 degrees off the line
    const auto found = tape_point(
        patch, {tape(patch, "A", a, (p - a).norm()), tape(patch, "B", b, (p - b).norm())},
        Vec3(0, 1, 0), "damage.centre");
    ASSERT_TRUE(found) << found.error().message();
    ASSERT_EQ(found->warnings.size(), 1u);
    const Warning& warning = found->warnings.front();
    for (const std::string& words : {warning.words().told, warning.words().plain(Units::us)}) {
        EXPECT_NE(words.find("A and B run in one line"), std::string::npos) << words;
        EXPECT_NE(words.find("use another mark"), std::string::npos) << words;
        EXPECT_EQ(words.find("error"), std::string::npos) << words;
    }
}

TEST(TapePoint, OfTapesThatJustMeetLiesInTheLineOfTheMarks) {
    // A cylinder unrolls: between the marks, and beyond either of them. Tapes of whole mm between
    // marks of whole mm do that, as 260 and 260 between marks 520 mm apart.
    for (const double R : {300.0, -90.0}) {
        const auto patch = analytic_patch(test::cylinder_map(R), within_disc(250), 250, 8);
        const Vec2 a(-180, -40), b(60, 20);
        for (const double share : {0.5, 0.2, 1.4, -0.2}) {
            const Vec2 p = a + share * (b - a);
            const auto found = tape_point(
                patch, {tape(patch, "A", a, (p - a).norm()), tape(patch, "B", b, (p - b).norm())},
                Vec3(0, 1, 0), "damage.centre");
            ASSERT_TRUE(found) << found.error().message();
            EXPECT_LT((found->position - place(patch, p)).norm(), 0.02) << R << " " << share;
            ASSERT_EQ(found->warnings.size(), 1u);
            EXPECT_EQ(found->warnings.front().code(), "tapes-meet-flat");
        }
    }
}

TEST(BelowPlane, FindsThePlaceWithGivenXAndY) {
    constexpr double R = 500.0;
    const auto patch = analytic_patch(test::sphere_map(R), within_disc(300), 300, 12);
    const auto found = below_plane(patch, {120, -150}, "damage.centre");
    ASSERT_TRUE(found) << found.error().message();
    const Vec3 expected(120, -150, std::sqrt(R * R - 120.0 * 120.0 - 150.0 * 150.0) - R);
    EXPECT_LT((found->position - expected).norm(), 0.02);
    const auto outside = below_plane(patch, {450, 0}, "damage.centre");
    ASSERT_FALSE(outside);
    EXPECT_NE(outside.error().message().find("damage.centre: [450.0, 0.0] lies outside"),
              std::string::npos)
        << outside.error().message();
}

}  // namespace
}  // namespace tearline::damage

#include "core/scan/chine_lines.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace tearline::scan {
namespace {

constexpr double degree = std::numbers::pi / 180.0;

/// Two planes that meet along y in a ridge and turn by so much there, a point in each 4 mm square.
std::vector<Vec3> ridge(double turn) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> place(-300.0, 300.0);
    std::normal_distribution<double> noise(0.0, 0.1);
    std::vector<Vec3> points;
    for (int i = 0; i < 22'500; ++i) {
        const double across = place(random), along = place(random);
        const double slope = 0.5 * turn;
        points.emplace_back(across * std::cos(slope), along,
                            -std::abs(across) * std::sin(slope) + noise(random));
    }
    return points;
}

FairRequest about_ridge() {
    FairRequest request;
    request.middle = {60.0, 0.0, -28.0};
    request.outward = {std::sin(25.0 * degree), 0.0, std::cos(25.0 * degree)};
    request.reach = 250.0;
    request.spacing = 2.0;
    request.least_noise = {0.1, 4.0};
    return request;
}

TEST(ChineLine, GoesOnPastWhatIsMissing) {
    // By construction: one ridge, 130 mm of it hidden.
    std::vector<Vec3> points = ridge(50.0 * degree);
    std::erase_if(points, [](const Vec3& p) { return p.y() > -60.0 && p.y() < 70.0; });
    const auto lines = chine_lines(points, about_ridge());
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_GT((lines[0].points.back() - lines[0].points.front()).norm(), 400.0);
    for (const Vec3& p : lines[0].points)
        EXPECT_LT(std::hypot(p.x(), p.z()), 10.0) << p.transpose();
}

TEST(ChineLine, DoesNotGoOnAcrossSmoothSkin) {
    // By construction: the ridge dies out into a plane and rises again past it, so slowly and on so
    // narrow a skin that its flanks bend nowhere by what makes a line (a cosine of 29 mm over 150).
    std::vector<Vec3> points = ridge(40.0 * degree);
    std::erase_if(points, [](const Vec3& p) { return std::abs(p.x()) > 70.0; });
    for (Vec3& p : points) {
        const double rise = std::clamp((std::abs(p.y()) - 50.0) / 150.0, 0.0, 1.0);
        p.z() *= 0.5 * (1.0 - std::cos(rise * 180.0 * degree));
    }
    const auto lines = chine_lines(points, about_ridge());
    EXPECT_EQ(lines.size(), 2U);
    for (const ChineLine& line : lines)
        EXPECT_GT(line.points.front().y() * line.points.back().y(), 0.0);
}

class ChineLines : public testing::TestWithParam<double> {};

TEST_P(ChineLines, TellARidgeByItsPlaceAndTurn) {
    // By construction: along y through the origin; past a right angle the sides' normals lie over
    // 90 degrees apart. A tenth of the turn: places are as wide as 16 mm.
    FairRequest request;
    request.middle = {60.0, 0.0, -60.0 * std::tan(0.5 * GetParam() * degree)};
    request.outward = {std::sin(0.5 * GetParam() * degree), 0.0,
                       std::cos(0.5 * GetParam() * degree)};
    request.reach = 250.0;
    request.spacing = 2.0;
    request.least_noise = {0.1, 4.0};
    const auto lines = chine_lines(ridge(GetParam() * degree), request);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_NEAR(lines[0].turn / degree, GetParam(), 0.1 * GetParam());
    for (const Vec3& p : lines[0].points)
        EXPECT_LT(std::hypot(p.x(), p.z()), 10.0) << p.transpose();
}

INSTANTIATE_TEST_SUITE_P(Turns, ChineLines, testing::Values(40.0, 75.0, 97.0, 120.0));

}  // namespace
}  // namespace tearline::scan

#include "core/dish/ground_edge.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/scanned_shapes.h"

namespace tearline::dish {
namespace {

constexpr double deep = 6.0, ratio = 12.0;  // [mm]

/// A dish with an oval floor of half axes `a` and `b`, its scarf square to the floor's edge as near
/// as an oval's is.
struct Oval {
    double a = 60.0, b = 60.0;
    [[nodiscard]] double depth(const Vec2& p) const {
        const double turn = std::atan2(p.y(), p.x());
        const double floor = a * b / std::hypot(b * std::cos(turn), a * std::sin(turn));
        return std::clamp((floor - p.norm()) / ratio + deep, 0.0, deep);
    }
    /// How far the edge lies from the middle.
    [[nodiscard]] double edge(double turn) const {
        return a * b / std::hypot(b * std::cos(turn), a * std::sin(turn)) + ratio * deep;
    }
};

std::vector<scan::FieldPoint> scanned(const Oval& dish, double spread, unsigned start) {
    const scanned::Waves noise(start, spread, 4.0, 300);
    std::vector<scan::FieldPoint> points;
    for (double x = -200.0; x <= 200.0; x += 2.5)
        for (double y = -200.0; y <= 200.0; y += 2.5)
            points.push_back({{x, y}, dish.depth({x, y}) + noise.at({x, y}), 6.25});
    return points;
}

class RampFit : public testing::TestWithParam<double> {};

TEST_P(RampFit, FindsTheEdgeOfTheGround) {
    // Closed form of the dish. Bars by a prototype of another make: a spread of 1.3 mm at 0.1 mm of
    // noise and of 3.4 at 0.3, sector by sector; three of those hold for all.
    const double spread = GetParam(), bar = spread <= 0.1 ? 1.3 : 3.4;
    for (const Oval& dish : {Oval{60.0, 60.0}, Oval{75.0, 50.0}})
        for (unsigned start = 1; start <= 3; ++start) {
            const Vec2 centre(6.0, -4.0);
            const auto edge = ground_edge(scanned(dish, spread, start), centre, spread, 190.0);
            ASSERT_TRUE(edge) << edge.error().message();
            double squares = 0.0;
            const Loop2 line = edge->round(centre);
            for (const Vec2& p : line) {
                const double off = p.norm() - dish.edge(std::atan2(p.y(), p.x()));
                EXPECT_LT(std::abs(off), 3.0 * bar);
                squares += off * off;
            }
            EXPECT_LT(std::sqrt(squares / static_cast<double>(line.size())), bar);
            EXPECT_LT(edge->spread, 1.5 * bar);
            EXPECT_GT(edge->spread, 0.2 * bar);
        }
}

INSTANTIATE_TEST_SUITE_P(Noise, RampFit, testing::Values(0.1, 0.3), [](const auto& test) {
    return "um" + std::to_string(static_cast<int>(1000 * test.param));
});

TEST(GroundEdge, OfSoundSkinIsRefused) {
    const scanned::Waves noise(7, 0.1, 4.0, 300);
    std::vector<scan::FieldPoint> points;
    for (double x = -150.0; x <= 150.0; x += 4.0)
        for (double y = -150.0; y <= 150.0; y += 4.0)
            points.push_back({{x, y}, noise.at({x, y}), 16.0});
    const auto edge = ground_edge(points, {0, 0}, 0.1, 140.0);
    ASSERT_FALSE(edge);
    EXPECT_EQ(edge.error().kind, ErrorKind::bad_input);
    EXPECT_EQ(edge.error().key, "damage.outline");
}

TEST(GroundEdge, ThatRunsOutOfWhatIsLookedAtIsRefused) {
    EXPECT_FALSE(ground_edge(scanned({60.0, 60.0}, 0.1, 1), {0, 0}, 0.1, 110.0));
}

}  // namespace
}  // namespace tearline::dish

#include "core/scan/rolled_bend.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tearline::scan {
namespace {

// A ball of 40 mm rolled along x between a floor and a wall: a quarter of a cylinder.
constexpr double radius = 40.0;

RolledBend straight() {
    std::vector<BallPlace> places;
    for (int i = 0; i < 6; ++i)
        places.push_back({Vec3(100.0 + 50.0 * i, 0, 0), Vec3(0, 0, -1), Vec3(0, 1, 0)});
    return {radius, 100.0, 50.0, places};
}

TEST(RolledBend, AlongAStraightChineIsACylinder) {
    const RolledBend bend = straight();
    EXPECT_EQ(bend.low(), 100.0);
    EXPECT_EQ(bend.high(), 350.0);
    EXPECT_NEAR(bend.width(), radius * M_PI / 2.0, 1e-9);  // a quarter of its circle
    for (double along = 100.0; along < 350.0; along += 23.0)
        for (double round = 0.0; round <= bend.width(); round += 11.0) {
            const Vec3 at = bend.point({along, round});
            const double turn = round / radius;
            EXPECT_NEAR(at.x(), along, 1e-9);
            EXPECT_NEAR(at.y(), radius * std::sin(turn), 1e-9);
            EXPECT_NEAR(at.z(), -radius * std::cos(turn), 1e-9);
        }
}

TEST(RolledBend, BendsByItsRadius) {
    const RolledBend bend = straight();
    const SurfaceJet jet = bend.jet({210.0, 0.4 * bend.width()});
    const Vec3 outward = Vec3(0, jet.position.y(), jet.position.z()) / radius;
    // Differences of differences: exact to about 1e-5 of a curvature.
    EXPECT_NEAR((jet.du - Vec3(1, 0, 0)).norm(), 0.0, 1e-6);
    EXPECT_NEAR(jet.dv.norm(), 1.0, 1e-6);
    EXPECT_NEAR((jet.dvv + outward / radius).norm(), 0.0, 1e-5);
    EXPECT_NEAR(jet.duu.norm(), 0.0, 1e-5);
    EXPECT_NEAR(jet.duv.norm(), 0.0, 1e-5);
}

TEST(RolledBend, GoesThroughEveryPlaceOfItsBall) {
    // A chine that curves: at each place the bend begins and ends where the ball touches.
    std::vector<BallPlace> places;
    for (int i = 0; i < 7; ++i)
        places.push_back({Vec3(30.0 * i, 0.5 * i * i, 0.1 * i * i * i),
                          Vec3(0.02 * i, 0, -1).normalized(), Vec3(0, 1, 0.01 * i).normalized()});
    const RolledBend bend(radius, 0.0, 30.0, places);
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
        const BallPlace& place = places[i];
        const double along = 30.0 * static_cast<double>(i);
        EXPECT_NEAR((bend.point({along, 0.0}) - place.centre - radius * place.from).norm(), 0.0,
                    1e-9);
        EXPECT_NEAR((bend.point({along, bend.width()}) - place.centre - radius * place.to).norm(),
                    0.0, 1e-9);
    }
}

}  // namespace
}  // namespace tearline::scan

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "core/dish/sounded_dish.h"
#include "core/ground/ground.h"
#include "core/hull/read_hull.h"
#include "core/surface/locate_near.h"
#include "tests/support/planned.h"

/// Soundings of a dish ground exactly as a plan without soundings would have it, a flat floor and
/// walls of 1 in 12: levels and ply edges of both against circles in the developed plane (closed
/// form).
namespace tearline::sounded_frustum_test {
namespace {

using std::numbers::pi;
constexpr double ratio = 12.0;
constexpr double mat = 1.05078125;  // [mm] of mat 450: 0.45 (2.56/0.30 - 1.36)/3.072
constexpr double deep = 8.0 * mat, floor_radius = 100.0;
constexpr double bar = 1.0;        // [mm] of edge, through soundings
constexpr double model_bar = 0.1;  // [mm] net lines on exact surfaces (DEFINITIONS.md)

/// A developable sample model, by the ways from its developed plane to its surface and back; the
/// damage lies about the plane's origin.
struct Developed {
    std::string hull;
    std::function<Vec3(const Vec2&)> surface;
    std::function<Vec2(const Vec3&)> develop;
};

Developed panel() {
    return {"model = \"panel.step\"\noutward = \"as modelled\"\nskin = 12",
            [](const Vec2& q) { return Vec3(q.x(), 0.0, q.y()); },
            [](const Vec3& p) { return Vec2(p.x(), p.z()); }};
}

/// Radius 500, outside, about the lowest line.
Developed cylinder() {
    return {"model = \"cylinder.step\"",
            [](const Vec2& q) {
                const double a = q.y() / 500.0;
                return Vec3(1000.0 + q.x(), 500.0 * std::sin(a), -500.0 * std::cos(a));
            },
            [](const Vec3& p) { return Vec2(p.x() - 1000.0, 500.0 * std::atan2(p.y(), -p.z())); }};
}

/// Closed form: the frustum's depth by the distance from its middle in the developed plane.
double depth_at(const Vec2& q) {
    return std::clamp(deep - (q.norm() - floor_radius) / ratio, 0.0, deep);
}

struct Ring {
    double radius;
    int count;
};

/// The middle and rings on the floor, along its edge and down the wall, every second one turned.
std::vector<Vec2> on_rings(const std::vector<Ring>& rings) {
    std::vector<Vec2> all{{0.0, 0.0}};
    for (std::size_t k = 0; k < rings.size(); ++k)
        for (int i = 0; i < rings[k].count; ++i) {
            const double a = 2.0 * pi * (i + 0.5 * static_cast<double>(k % 2)) / rings[k].count;
            all.push_back(rings[k].radius * Vec2(std::cos(a), std::sin(a)));
        }
    return all;
}

/// 60 soundings in all, a ring of them along the floor's edge: without that ring the floor line,
/// a crease, is known to 2 mm only.
std::vector<Vec2> sixty() {
    return on_rings({{60.0, 5}, {100.0, 16}, {125.0, 14}, {150.0, 12}, {178.0, 12}});
}

std::string job(const Developed& shape, const std::vector<Vec2>& soundings) {
    const Vec3 middle = shape.surface({0.0, 0.0});
    const auto point = [](const Vec3& p) {
        return "[" + std::to_string(p.x()) + ", " + std::to_string(p.y()) + ", " +
               std::to_string(p.z()) + "]";
    };
    std::string text = "[hull]\n" + shape.hull + "\nbow = [1, 0, 0]\nup = [0, 0, 1]\n[damage]\n" +
                       "centre = " + point(middle) + "\nradius = 100\ndepth = 8.40625\n";
    if (!soundings.empty()) text += "round = \"floor\"\n";
    for (const Vec2& q : soundings)
        text += "[[damage.sounding]]\nat = " + point(shape.surface(q)) +
                "\ndepth = " + std::to_string(depth_at(q)) + "\n";
    return text + "[scarf]\nratio = 12\n[layup]\nfill = \"mat 450\"\ncover = []\n";
}

ground::Ground ground_of(const std::string& text) {
    const job::Job job = test::job_of(text);
    const auto hull = hull::read_hull(job.hull, job.damage.side);
    if (!hull) throw std::runtime_error(hull.error().message());
    auto ground = ground::lay_ground(job, *hull);
    if (!ground) throw std::runtime_error(ground.error().message());
    return std::move(*ground);
}

/// The one loop round a region of the base surface, with the middles of its edges.
Loop3 edge_of(const ground::Ground& ground, const std::vector<Region2>& regions) {
    EXPECT_EQ(regions.size(), 1u);
    EXPECT_TRUE(regions.front().holes.empty());
    Loop3 loop;
    for (const Vec2& p : test::with_middles(regions.front().outer))
        loop.push_back(ground.patch.sample(surface::locate_near(ground.patch, p).at).position);
    return loop;
}

/// How far a loop lies from a circle about the origin of the developed plane, at most [mm].
double off_circle(const Developed& shape, const Loop3& loop, double radius) {
    double most = 0.0;
    for (const Vec3& p : loop) most = std::max(most, std::abs(shape.develop(p).norm() - radius));
    return most;
}

/// The dish under k plies of the frustum is a circle k plies' rise outside the floor.
void expect_levels(const Developed& shape, const std::vector<Vec2>& soundings) {
    const ground::Ground model = ground_of(job(shape, {}));
    const ground::Ground sounded = ground_of(job(shape, soundings));
    const dish::SoundedDish* dish = sounded.dish->soundings();
    ASSERT_NE(dish, nullptr);
    EXPECT_TRUE(dish->warnings().empty());
    constexpr int plies = 8;
    for (int k = 0; k <= plies; ++k) {
        const double radius = floor_radius + ratio * k * mat;
        const auto ring = std::find_if(model.regions.begin(), model.regions.end(),
                                       [&](const plies::NetRegion& region) {
                                           return std::abs(region.offset - ratio * k * mat) < 1e-6;
                                       });
        ASSERT_NE(ring, model.regions.end()) << k;
        EXPECT_LT(off_circle(shape, edge_of(model, ring->chart), radius), model_bar) << k;
        const auto level = k == plies ? dish->ground() : dish->deeper_than(deep - k * mat);
        EXPECT_LT(off_circle(shape, edge_of(sounded, level), radius), bar) << k;
    }
}

TEST(SoundedFrustum, LevelsAreCirclesOnAPanel) {
    expect_levels(panel(), sixty());
}

TEST(SoundedFrustum, LevelsAreCirclesOfTheUnrolledCylinder) {
    expect_levels(cylinder(), sixty());
}

TEST(SoundedFrustum, PlyEdgesLieHalfAPlysRiseInsideThoseOfTheModel) {
    // Smallest first, ply k ends where its top meets the scarf: ratio k t outside the floor. A
    // sounded ply lies where half of it fits below the base surface, half a ply deeper: ratio t / 2
    // farther in.
    const Plan model = test::planned(job(panel(), {}));
    const Plan sounded = test::planned(job(panel(), sixty()));
    ASSERT_EQ(sounded.plies.size(), 8u);
    ASSERT_EQ(model.plies.size(), 8u);
    for (std::size_t i = 0; i < 8; ++i) {
        ASSERT_EQ(sounded.plies[i].outlines_3d.size(), 1u);
        EXPECT_EQ(sounded.plies[i].number, static_cast<int>(i) + 1);
        const double radius = floor_radius + ratio * (static_cast<double>(i) + 1.0) * mat;
        for (const Vec3& p : test::with_middles(sounded.plies[i].outlines_3d.front().outer))
            EXPECT_NEAR(p.norm(), radius - ratio * mat / 2.0, bar) << i;
        for (const Vec3& p : test::with_middles(model.plies[i].outlines_3d.front().outer))
            EXPECT_NEAR(p.norm(), radius, model_bar) << i;
    }
}

}  // namespace
}  // namespace tearline::sounded_frustum_test

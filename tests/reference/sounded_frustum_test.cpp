#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <iostream>
#include <numbers>

#include "core/engine/ground.h"
#include "core/hull/read_hull.h"
#include "core/surface/locate_near.h"
#include "tests/support/loops.h"
#include "tests/support/planned.h"

/// Soundings of a dish ground exactly as a plan without soundings would have it, a flat floor and
/// walls of 1 in 12: the sounded dish against the model dish at the same depth.
namespace tearline {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double ratio = 12.0;
constexpr double mat = 1.05078125;  // [mm] of mat 450: 0.45 (2.56/0.30 - 1.36)/3.072
constexpr double deep = 8.0 * mat, floor_radius = 100.0;
constexpr double bar = 1.0;  // [mm] of edge

/// A developable sample model, by a way from its developed plane to its surface; the damage lies
/// about the plane's origin.
struct Developed {
    std::string hull;
    std::function<Vec3(const Vec2&)> surface;
};

Developed panel() {
    return {"model = \"panel.step\"\noutward = \"as modelled\"\nskin = 12",
            [](const Vec2& q) { return Vec3(q.x(), 0.0, q.y()); }};
}

/// Radius 500, outside, about the lowest line.
Developed cylinder() {
    return {"model = \"cylinder.step\"", [](const Vec2& q) {
                const double a = q.y() / 500.0;
                return Vec3(1000.0 + q.x(), 500.0 * std::sin(a), -500.0 * std::cos(a));
            }};
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

engine::Ground ground_of(const std::string& text) {
    const job::Job job = test::job_of(text);
    const auto hull = hull::read_hull(job.hull, job.damage.side);
    if (!hull) throw std::runtime_error(hull.error().message);
    auto ground = engine::lay_ground(job, *hull);
    if (!ground) throw std::runtime_error(ground.error().message);
    return std::move(*ground);
}

/// The one loop round a region of the base surface, with the middles of its edges.
Loop3 edge_of(const engine::Ground& ground, const std::vector<Region2>& regions) {
    EXPECT_EQ(regions.size(), 1u);
    EXPECT_TRUE(regions.front().holes.empty());
    Loop3 loop;
    for (const Vec2& p : test::with_middles(regions.front().outer))
        loop.push_back(ground.patch.sample(surface::locate_near(ground.patch, p).at).position);
    return loop;
}

/// Both dishes at the depths of the model dish's own rings: floor line, zero line and between.
void expect_same_levels(const Developed& shape, const std::vector<Vec2>& soundings) {
    const engine::Ground model = ground_of(job(shape, {}));
    const engine::Ground sounded = ground_of(job(shape, soundings));
    ASSERT_TRUE(sounded.sounded);
    EXPECT_TRUE(sounded.sounded->warnings().empty());
    int compared = 0;
    double worst = 0.0;
    for (const plies::NetRegion& ring : model.regions) {
        if (ring.offset > model.scarf_offset) continue;  // bands, beyond the dish
        const double depth = model.dish->profile().front().y() - ring.offset / ratio;
        const auto level = ring.offset == model.scarf_offset ? sounded.sounded->ground()
                                                             : sounded.sounded->deeper_than(depth);
        const double off = test::apart(edge_of(sounded, level), edge_of(model, ring.chart));
        EXPECT_LT(off, bar) << "at a depth of " << depth << " mm";
        worst = std::max(worst, off);
        ++compared;
    }
    std::cout << soundings.size() << " soundings, " << compared << " levels: " << worst
              << " mm apart at most\n";
    EXPECT_EQ(compared, 9);  // the floor's, and one for the edge of each of eight plies
}

TEST(SoundedFrustum, LevelsAreThoseOfTheModelDishOnAPanel) {
    expect_same_levels(panel(), sixty());
}

TEST(SoundedFrustum, LevelsAreThoseOfTheModelDishOnACylinder) {
    expect_same_levels(cylinder(), sixty());
}

TEST(SoundedFrustum, PlyEdgesAreThoseOfTheModelMovedByHalfAPlysRise) {
    // A sounded ply lies where half of it fits below the base surface, its edge where the dish is
    // as deep as the ply's middle; the model's edge lies where the ply's top meets the scarf. Half
    // a ply deeper is ratio t / 2 farther in.
    const Plan model = test::planned(job(panel(), {}));
    const Plan sounded = test::planned(job(panel(), sixty()));
    ASSERT_EQ(sounded.plies.size(), model.plies.size());
    for (std::size_t i = 0; i < model.plies.size(); ++i) {
        ASSERT_EQ(sounded.plies[i].outlines_3d.size(), 1u);
        EXPECT_EQ(sounded.plies[i].number, model.plies[i].number);
        const double radius = floor_radius + model.plies[i].edge_offset_mm - ratio * mat / 2.0;
        for (const Vec3& p : test::with_middles(sounded.plies[i].outlines_3d.front().outer))
            EXPECT_NEAR(p.norm(), radius, bar) << "ply " << sounded.plies[i].number;
        for (const Vec3& p : test::with_middles(model.plies[i].outlines_3d.front().outer))
            EXPECT_NEAR(p.norm() - ratio * mat / 2.0, radius, bar);
    }
}

}  // namespace
}  // namespace tearline

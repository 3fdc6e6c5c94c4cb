#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "tests/support/loops.h"
#include "tests/support/planned.h"

/// A picked, lopsided, partly hollow outline on cylinder and cone: net lines against distances in
/// the developed plane, where geodesics are straight lines (closed form, brute force).
namespace tearline::lopsided_outline_test {
namespace {

using std::numbers::pi;

/// A developable sample model, with a way from its developed plane to its surface and back.
struct Developed {
    std::string model;
    std::function<Vec3(const Vec2&)> surface;
    std::function<Vec2(const Vec3&)> plane;
};

Developed cylinder() {
    return {"cylinder",
            [](const Vec2& q) {
                const double a = q.y() / 500.0;
                return Vec3(1000.0 + q.x(), 500.0 * std::sin(a), -500.0 * std::cos(a));
            },
            [](const Vec3& p) { return Vec2(p.x() - 1000.0, 500.0 * std::atan2(p.y(), -p.z())); }};
}

/// Half-angle 20 degrees, apex ahead; the plane's x runs up the lowest line towards the apex.
Developed cone() {
    const double sine = std::sin(20.0 * pi / 180.0), tangent = std::tan(20.0 * pi / 180.0);
    const double middle = 400.0 / sine;
    return {"cone",
            [=](const Vec2& q) {
                const double slant = std::hypot(middle - q.x(), q.y());
                const double a = std::atan2(q.y(), middle - q.x()) / sine, r = slant * sine;
                return Vec3((600.0 - r) / tangent, r * std::sin(a), -r * std::cos(a));
            },
            [=](const Vec3& p) {
                const double slant = std::hypot(p.y(), p.z()) / sine;
                const double a = std::atan2(p.y(), -p.z()) * sine;
                return Vec2(middle - slant * std::cos(a), slant * std::sin(a));
            }};
}

/// A blot with a bay: x along the hull, y round it. The bay is wide enough to keep its shape.
const Loop2 blot{{-120, -60}, {40, -90}, {150, -20}, {120, 70}, {30, 20}, {-30, 90}, {-130, 60}};

std::string job(const Developed& shape, const std::string& join, const std::string& ending) {
    std::string points;
    for (const Vec2& q : blot) {
        const Vec3 p = shape.surface(q);
        points += "[" + std::to_string(p.x()) + ", " + std::to_string(p.y()) + ", " +
                  std::to_string(p.z()) + "], ";
    }
    return "[hull]\nmodel = \"" + shape.model + ending +
           "\"\nunit = \"mm\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n[damage]\noutline = [" + points +
           "]\njoin = \"" + join + "\"\ndepth = \"4.2 mm\"\n[layup]\nfill = \"mat 450\"\n";
}

Loop2 developed(const Developed& shape, const Loop3& loop) {
    Loop2 flat;
    for (const Vec3& p : loop) flat.push_back(shape.plane(p));
    if (signed_area(flat) < 0.0) std::reverse(flat.begin(), flat.end());
    return flat;
}

void expect_offsets(const Developed& shape, const Plan& plan, double bar) {
    const Loop2 damage = developed(shape, plan.place.damage.outer);
    for (const templates::LaidPly& ply : plan.plies) {
        ASSERT_EQ(ply.outlines_3d.size(), 1u);
        const Loop2 net = developed(shape, ply.outlines_3d[0].outer);
        double worst = 0.0;
        for (const Vec2& p : test::with_middles(net)) {
            EXPECT_FALSE(contains(damage, p));
            worst = std::max(worst, std::abs(test::distance_to(damage, p) - ply.edge_offset_mm));
        }
        EXPECT_LE(worst, bar) << shape.model << " ply " << ply.number;
        // Nothing is left out: Steiner's area as an upper bound, each turn of the outline inside.
        for (const Vec2& p : damage) EXPECT_TRUE(contains(net, p));
    }
}

TEST(LopsidedOutlineReference, StraightJoinIsThePolygonInTheDevelopedPlane) {
    for (const Developed& shape : {cylinder(), cone()}) {
        const Plan plan = test::planned(job(shape, "straight", ".step"));
        EXPECT_LE(test::farthest(developed(shape, plan.place.damage.outer), blot), 0.02)
            << shape.model;
        expect_offsets(shape, plan, 0.1);
    }
}

TEST(LopsidedOutlineReference, SmoothJoinKeepsItsDistances) {
    for (const Developed& shape : {cylinder(), cone()}) {
        const Plan plan = test::planned(job(shape, "smooth", ".step"));
        const Loop2 damage = developed(shape, plan.place.damage.outer);
        for (const Vec2& q : blot) EXPECT_LE(test::distance_to(damage, q), 0.01);
        expect_offsets(shape, plan, 0.1);
    }
}

TEST(LopsidedOutlineReference, FromStlWithinHalfAMillimetre) {
    for (const Developed& shape : {cylinder(), cone()})
        expect_offsets(shape, test::planned(job(shape, "smooth", ".stl")), 0.5);
}

}  // namespace
}  // namespace tearline::lopsided_outline_test

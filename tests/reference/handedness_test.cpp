#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/loops.h"
#include "tests/support/planned.h"

/// A lopsided repair on a lopsided place: a template that is mirrored, or turned, cannot pass.
/// What is right is built here from the hull's axes alone (DEFINITIONS.md, Flat frame).
namespace tearline::handedness_test {
namespace {

/// An L with its long leg low and forward, on the topside or the transom of the Curlew.
struct Place {
    std::string name;
    Loop3 outline;
    std::string side;
    Vec3 normal;  ///< roughly, towards the laying side
};

void PrintTo(const Place& place, std::ostream* out) {
    *out << place.name;
}

Place topside(const std::string& side, double port) {
    const Loop3 outline{{2000, port * 1020, 400}, {2500, port * 1020, 400},
                        {2500, port * 1042, 500}, {2200, port * 1042, 500},
                        {2200, port * 1074, 650}, {2000, port * 1074, 650}};
    const double out = side == "outside" ? 1.0 : -1.0;
    return {side + (port > 0 ? " port" : " starboard"), outline, side, {0, out * port, 0}};
}

Place transom(const std::string& side) {
    const Loop3 outline{{0, -300, 400}, {0, 200, 400},  {0, 200, 500},
                        {0, -100, 500}, {0, -100, 700}, {0, -300, 700}};
    const double out = side == "outside" ? -1.0 : 1.0;
    return {side + " transom", outline, side, {out, 0, 0}};
}

std::string job(const Place& place) {
    std::string points;
    for (const Vec3& p : place.outline)
        points += "[" + std::to_string(p.x()) + ", " + std::to_string(p.y()) + ", " +
                  std::to_string(p.z()) + "], ";
    return "[hull]\nmodel = \"curlew.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin = \"9 mm\"\n"
           "[damage]\noutline = [" +
           points + "]\njoin = \"straight\"\ndepth = \"3.2 mm\"\nside = \"" + place.side +
           "\"\n[layup]\nfill = \"mat 450\"\ncover = []\n";
}

Vec2 centroid(const Loop2& loop) {
    Vec2 sum(0, 0);
    double area = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 &a = loop[i], &b = loop[(i + 1) % loop.size()];
        sum += cross2(a, b) * (a + b);
        area += 3.0 * cross2(a, b);
    }
    return sum / area;
}

Loop2 about_centroid(Loop2 loop) {
    const Vec2 middle = centroid(loop);
    for (Vec2& p : loop) p -= middle;
    return loop;
}

/// The ply's edge in space seen square on: up to the top, x = y x normal to the right, no mirror.
Loop2 seen(const Loop3& edge, const Place& place, double mirror) {
    Vec3 normal(0, 0, 0);  // of the loop itself (Newell), the way the place's normal looks
    for (std::size_t i = 0; i < edge.size(); ++i)
        normal += edge[i].cross(edge[(i + 1) % edge.size()]);
    normal.normalize();
    if (normal.dot(place.normal) < 0.0) normal = -normal;
    const Vec3 up(0, 0, 1);
    const Vec3 y = (up - normal * normal.dot(up)).normalized();
    const Vec3 x = y.cross(normal);
    Loop2 flat;
    for (const Vec3& p : edge) flat.emplace_back(mirror * x.dot(p), y.dot(p));
    return about_centroid(flat);
}

class Handedness : public testing::TestWithParam<Place> {};

TEST_P(Handedness, TemplatesLieAsTheLaminatorSeesThem) {
    const Place& place = GetParam();
    const Plan plan = test::planned(job(place));
    ASSERT_EQ(plan.plies.size(), 3u);
    for (const templates::LaidPly& ply : plan.plies) {
        const Loop2& net = ply.pieces.at(0).outline.net.outer;
        const Loop3& edge = ply.outlines_3d.at(0).outer;
        EXPECT_GT(signed_area(net), 0.0);
        // The topside is bowed by a few mm over half a metre: square on, it looks 1 mm shorter.
        EXPECT_LE(test::farthest(about_centroid(net), seen(edge, place, 1.0)), 2.5) << place.name;
        EXPECT_GE(test::farthest(about_centroid(net), seen(edge, place, -1.0)), 50.0)
            << "this place would not show a mirrored template";
    }
}

INSTANTIATE_TEST_SUITE_P(Curlew, Handedness,
                         testing::Values(topside("outside", 1), topside("outside", -1),
                                         topside("inside", 1), topside("inside", -1),
                                         transom("outside"), transom("inside")),
                         [](const auto& info) {
                             std::string name = info.param.name;
                             std::replace(name.begin(), name.end(), ' ', '_');
                             return name;
                         });

}  // namespace
}  // namespace tearline::handedness_test

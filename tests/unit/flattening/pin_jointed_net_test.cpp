#include "core/flattening/pin_jointed_net.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "core/flattening/flatten_membrane.h"
#include "tests/support/analytic_meshes.h"

namespace tearline::flattening {
namespace {

constexpr double degrees = 180.0 / std::numbers::pi;
constexpr double radius = 600.0;

/// A surface mesh with its picture, walked on.
struct Walked {
    surface::SurfaceMesh mesh;
    std::vector<Vec2> flat;
    MetricChart chart;

    explicit Walked(surface::SurfaceMesh m, std::vector<Vec2> picture)
        : mesh(std::move(m)), flat(std::move(picture)), chart(mesh, flat) {}
};

Walked walked(const surface::SurfaceMesh& mesh, const std::vector<Vec2>& start) {
    auto flat = flatten_membrane(mesh, start);
    if (!flat) throw std::runtime_error(flat.error().message());
    return Walked(mesh, flat->flat);
}

/// Polar cap out to 1.12 R, wide enough for u = v = 0.7 R.
const Walked& sphere() {
    static const test::PlaneMesh figure = test::disc(1.12 * radius, 60);
    static const Walked cap = walked(test::on_sphere(figure, radius), figure.place);
    return cap;
}

/// The net from the pole, warp along the meridian of the mesh's +x.
Result<PinJointedNet> polar_net(const Walked& cap, double cell) {
    return PinJointedNet::laid(cap.chart, cap.flat[0], cap.flat[1] - cap.flat[0], {.cell = cell});
}

/// The point of the unit sphere over a place of the picture.
Vec3 on_unit_sphere(const Walked& cap, const Vec2& place) {
    for (const auto& v : cap.mesh.triangle) {
        const Vec2 &a = cap.flat[v[0]], &b = cap.flat[v[1]], &c = cap.flat[v[2]];
        const double whole = cross2(b - a, c - a);
        const Vec3 w(cross2(b - place, c - place) / whole, cross2(c - place, a - place) / whole,
                     cross2(a - place, b - place) / whole);
        if (w.minCoeff() < -1e-9) continue;
        const auto& p = cap.mesh.position;
        return (w[0] * p[v[0]] + w[1] * p[v[1]] + w[2] * p[v[2]]).normalized();
    }
    return Vec3::Zero();
}

TEST(PinJointedNet, ShearOnASphereMeetsTheClosedForm) {
    // SOURCES.md section 6: (s f')' = cos f, s = u v / R^2; bar 0.05 degrees (DEFINITIONS.md,
    // Bars).
    const auto net = polar_net(sphere(), 5.0);
    ASSERT_TRUE(net) << net.error().message();
    const struct {
        double u, shear;
    } table[] = {
        {0.25, 3.580209}, {0.3, 5.154301}, {0.5, 14.274425}, {0.6, 20.479303}, {0.7, 27.706613}};
    for (const auto& row : table) {
        const int k = static_cast<int>(std::lround(row.u * radius / 5.0));
        for (const int i : {k, -k})
            for (const int j : {k, -k}) {
                const auto shear = net->shear(i, j);
                ASSERT_TRUE(shear);
                const double sign = (i > 0) == (j > 0) ? 1.0 : -1.0;
                EXPECT_NEAR(sign * *shear * degrees, row.shear, 0.05) << row.u;
            }
    }
}

TEST(PinJointedNet, ShearDependsOnTheProductOfTheYarnLengthsAlone) {
    // s = u v: (150, 600) and (300, 300) have the same 0.25 (SOURCES.md section 6).
    const auto net = polar_net(sphere(), 5.0);
    ASSERT_TRUE(net) << net.error().message();
    EXPECT_NEAR(*net->shear(30, 120) * degrees, 14.274425, 0.05);
    EXPECT_NEAR(*net->shear(120, 30) * degrees, 14.274425, 0.05);
    EXPECT_NEAR(*net->shear(40, 90) * degrees, 14.274425, 0.05);
}

TEST(PinJointedNet, ConvergesWithTheSquareOfTheCell) {
    // SOURCES.md section 6: at s = 0.25 steps of 0.1, 0.05 and 0.025 R give 14.29324, 14.27911
    // and 14.27560 degrees with yarns that are geodesics from crossing to crossing. Ours run
    // straight in a picture strained by 17 %, which adds its own share of h^2: within the bar of
    // 0.05 degrees at each step, a quarter of the excess each time, and the limit of 14.274425.
    const double expected[] = {14.29324, 14.27911, 14.27560};
    const double step[] = {0.1, 0.05, 0.025};
    double shear[3];
    for (int k = 0; k < 3; ++k) {
        const auto net = polar_net(sphere(), step[k] * radius);
        ASSERT_TRUE(net) << net.error().message();
        const int n = static_cast<int>(std::lround(0.5 / step[k]));
        shear[k] = *net->shear(n, n) * degrees;
        EXPECT_NEAR(shear[k], expected[k], 0.05) << step[k];
    }
    EXPECT_NEAR((shear[0] - shear[1]) / (shear[1] - shear[2]), 4.0, 0.4);
    EXPECT_NEAR(shear[2] - (shear[1] - shear[2]) / 3.0, 14.274425, 0.005);
}

TEST(PinJointedNet, NodesLieWhereTheClosedFormPutsThem) {
    // SOURCES.md section 6: u = v = 0.5 R lies at (0.474383, 0.474383, 0.741567) R.
    const auto net = polar_net(sphere(), 5.0);
    ASSERT_TRUE(net) << net.error().message();
    const Vec3 expected(0.474383, 0.474383, 0.741567);
    const Vec3 found = on_unit_sphere(sphere(), *net->node(60, 60));
    EXPECT_LE((found - expected).norm() * radius, 0.1);
}

TEST(PinJointedNet, YarnsKeepTheirLength) {
    // Great-circle distance between neighbouring crossings, apart from the net's own measure.
    const auto net = polar_net(sphere(), 20.0);
    ASSERT_TRUE(net) << net.error().message();
    double longest = 0.0, shortest = 1e9;
    for (int i = -18; i < 18; ++i)
        for (int j = -18; j <= 18; ++j) {
            const Vec3 a = on_unit_sphere(sphere(), *net->node(i, j));
            const Vec3 b = on_unit_sphere(sphere(), *net->node(i + 1, j));
            const double arc = radius * std::atan2(a.cross(b).norm(), a.dot(b));
            longest = std::max(longest, arc);
            shortest = std::min(shortest, arc);
        }
    // A yarn across the cap: places between vertices are linear in a picture that is not, which
    // shows in single cells and not along the yarn.
    EXPECT_LE(longest, 20.0 * 1.002);
    EXPECT_GE(shortest, 20.0 * 0.998);
    double yarn = 0.0;
    for (int i = -18; i < 18; ++i) {
        const Vec3 a = on_unit_sphere(sphere(), *net->node(i, 15));
        const Vec3 b = on_unit_sphere(sphere(), *net->node(i + 1, 15));
        yarn += radius * std::atan2(a.cross(b).norm(), a.dot(b));
    }
    EXPECT_NEAR(yarn / 720.0, 1.0, 1e-4);
}

/// K = -1/R^2; distances by the hyperbolic law of cosines. No such surface stands in space.
const test::Surface saddle{[](const Vec2& p) { return Vec3(p.x(), p.y(), 0.0); },
                           [](const Vec2&) { return Vec3(0.0, 0.0, 1.0); },
                           [](const Vec2& a, const Vec2& b) {
                               const double r = a.norm() / radius, s = b.norm() / radius;
                               const double turn = std::atan2(cross2(a, b), a.dot(b));
                               return radius *
                                      std::acosh(std::cosh(r) * std::cosh(s) -
                                                 std::sinh(r) * std::sinh(s) * std::cos(turn));
                           }};

TEST(PinJointedNet, OpensOnASaddleAsMuchAsItClosesOnASphere) {
    // w_uv = -K sin w: with K = -1/R^2 the shear is that of the sphere with its sign turned.
    const test::PlaneMesh figure = test::disc(0.8 * radius, 50);
    const Walked hollow = walked(test::on_surface(figure, saddle), figure.place);
    const auto net = polar_net(hollow, 5.0);
    ASSERT_TRUE(net) << net.error().message();
    EXPECT_NEAR(*net->shear(60, 60) * degrees, -14.274425, 0.05);
    EXPECT_NEAR(*net->shear(36, 36) * degrees, -5.154301, 0.05);
}

TEST(PinJointedNet, DoesNotShearOnDevelopables) {
    // Zero Gauss curvature, zero shear, for any axis; the cloth is the plane figure, turned.
    const test::PlaneMesh figure = test::disc(300.0, 20);
    const double half_angle = 20.0 / degrees;
    for (const bool cone : {false, true}) {
        const auto mesh =
            cone ? test::on_cone(figure, half_angle, 700.0) : test::on_cylinder(figure, 200.0);
        const Walked piece = walked(mesh, figure.place);
        for (const double axis : {0.0, 0.4, 1.2}) {
            const Vec2 warp(std::cos(axis), std::sin(axis));
            const Vec2 start(40.0, -70.0);
            const auto net = PinJointedNet::laid(piece.chart, start, warp, {.cell = 10.0});
            ASSERT_TRUE(net) << net.error().message();
            for (const Vec2& p : piece.flat) {
                const auto cloth = net->cloth_at(p);
                ASSERT_TRUE(cloth);
                EXPECT_LE(std::abs(cloth->shear) * degrees, 0.01);
                const Vec2 d = p - start;
                EXPECT_LE((cloth->at - Vec2(warp.dot(d), cross2(warp, d))).norm(), 0.01);
            }
        }
    }
}

TEST(PinJointedNet, CrossesAtRightAnglesInAPictureThatLeans) {
    // The cloth knows lengths alone: over a cylinder it is the plane figure, however its picture is
    // drawn out and leaned, here by x + 0.4 y and 0.8 y.
    const test::PlaneMesh figure = test::disc(300.0, 20);
    const auto leaned = [](const Vec2& p) { return Vec2(p.x() + 0.4 * p.y(), 0.8 * p.y()); };
    std::vector<Vec2> picture;
    for (const Vec2& p : figure.place) picture.push_back(leaned(p));
    const Walked piece(test::on_cylinder(figure, 200.0), picture);
    const Vec2 warp(std::cos(0.4), std::sin(0.4)), start(40.0, -70.0);
    const auto net = PinJointedNet::laid(piece.chart, leaned(start), leaned(warp), {.cell = 10.0});
    ASSERT_TRUE(net) << net.error().message();
    for (std::size_t v = 0; v < picture.size(); ++v) {
        const auto cloth = net->cloth_at(picture[v]);
        ASSERT_TRUE(cloth);
        EXPECT_LE(std::abs(cloth->shear) * degrees, 0.01);
        const Vec2 d = figure.place[v] - start;
        EXPECT_LE((cloth->at - Vec2(warp.dot(d), cross2(warp, d))).norm(), 0.01);
    }
}

TEST(PinJointedNet, CarriesPlacesToTheClothAndBack) {
    const auto net = polar_net(sphere(), 5.0);
    ASSERT_TRUE(net) << net.error().message();
    for (const Vec2& p : sphere().flat) {
        const auto cloth = net->cloth_at(p);
        ASSERT_TRUE(cloth);
        const auto back = net->place_of(cloth->at);
        ASSERT_TRUE(back);
        EXPECT_LE((*back - p).norm(), 1e-6);
    }
}

TEST(PinJointedNet, TheClothUnderAnOutlineDoesNotHangOnTheCell) {
    // The bar for an outline carried back is 0.1 mm: 5 mm cells against 2.5 mm ones.
    const auto coarse = polar_net(sphere(), 5.0), fine = polar_net(sphere(), 2.5);
    ASSERT_TRUE(coarse && fine);
    double worst = 0.0;
    for (const Vec2& p : sphere().flat) {
        if (!((p - sphere().flat[0]).norm() < 420.0)) continue;
        worst = std::max(worst, (coarse->cloth_at(p)->at - fine->cloth_at(p)->at).norm());
    }
    EXPECT_LE(worst, 0.1);
}

TEST(PinJointedNet, FollowsAStripLaidAcrossTheYarns) {
    // The yarns of the first cross leave the strip at once; its far ends must be covered all the
    // same, and on a cylinder without shear.
    test::PlaneMesh figure = test::disc(1.0, 30);
    for (Vec2& p : figure.place) p = Vec2(600.0 * p.x(), 50.0 * p.y());
    const Walked strip = walked(test::on_cylinder(figure, 250.0), figure.place);
    const Vec2 diagonal(std::sqrt(0.5), std::sqrt(0.5));
    const auto net = PinJointedNet::laid(strip.chart, strip.flat[0], diagonal, {.cell = 5.0});
    ASSERT_TRUE(net) << net.error().message();
    for (const Vec2& p : strip.flat) {
        const auto cloth = net->cloth_at(p);
        ASSERT_TRUE(cloth);
        EXPECT_LE(std::abs(cloth->shear) * degrees, 0.01);
    }
}

TEST(PinJointedNet, CoversAGentleCapFromAnyStartAlongAnyAxis) {
    // (s f')' = cos f: over a cap of 0.375 rad shear stays under 9 degrees wherever the cloth is
    // pressed down first, so none of these nets may end before the rim.
    const test::PlaneMesh figure = test::disc(225.0, 24);
    const Walked cap = walked(test::on_sphere(figure, radius), figure.place);
    for (std::size_t start = 0; start < cap.flat.size(); start += 145)
        for (int turn = 0; turn < 90; turn += 15) {
            const Vec2 warp(std::cos(turn / degrees), std::sin(turn / degrees));
            for (const double cell : {5.0, 20.0}) {
                const auto net =
                    PinJointedNet::laid(cap.chart, cap.flat[start], warp, {.cell = cell});
                EXPECT_TRUE(net) << "vertex " << start << ", turned " << turn << ", cell " << cell;
            }
        }
}

TEST(PinJointedNet, RefusesWhatShearsShut) {
    // (s f')' = cos f brings a quarter turn at s = 2.4: a saddle of 1.8 R needs more on its
    // diagonals, where cloth that opens reaches less far than its yarns are long.
    const test::PlaneMesh figure = test::disc(1.8 * radius, 40);
    const Walked hollow = walked(test::on_surface(figure, saddle), figure.place);
    const auto net = polar_net(hollow, 20.0);
    ASSERT_FALSE(net);
    EXPECT_EQ(net.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(net.error().message().find("shears shut"), std::string::npos);
}

}  // namespace
}  // namespace tearline::flattening

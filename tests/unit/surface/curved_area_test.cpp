#include "core/surface/curved_area.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "tests/support/analytic_meshes.h"

namespace tearline::surface {
namespace {

TEST(CurvedArea, MeetsTheAreaOfGeodesicDiscsOnSpheres) {
    // SOURCES.md section 6: A = 2 pi R^2 (1 - cos(r/R)); r = 300. The rim's polygon is smaller
    // than the disc by sectors; with 6 x 60 sides that is 5e-5 of it.
    const struct {
        double radius, area;
    } table[] = {{1000.0, 280629.115}, {500.0, 274362.175}, {2000.0, 282213.593}};
    for (const auto& row : table) {
        const auto mesh = test::on_sphere(test::disc(300.0, 60), row.radius);
        EXPECT_NEAR(curved_area(mesh) / row.area, 1.0, 6e-5) << row.radius;
    }
}

/// A spherical polygon of n equal sides about the pole, by its angle excess: the mesh's own edge.
double polygon_area(double radius, double a, int n) {
    const double half = std::numbers::pi / n;
    // Right triangle pole - rim vertex - side middle: cos a = cot(half) cot(base angle).
    const double base = std::atan(1.0 / (std::cos(a) * std::tan(half)));
    return radius * radius * (2.0 * n * base - (n - 2) * std::numbers::pi);
}

TEST(CurvedArea, IsExactToFourthOrderInTheEdgeLength) {
    // Against the exact spherical polygon (Girard): 600 triangles over a cap of half a radian are
    // within 3e-5; the flat triangles alone are 6e-4 short.
    const double radius = 600.0;
    const auto mesh = test::on_sphere(test::disc(300.0, 10), radius);
    const double exact = polygon_area(radius, 0.5, 60);
    EXPECT_NEAR(curved_area(mesh) / exact, 1.0, 3e-5);
}

TEST(CurvedArea, GrowsOnASaddle) {
    // K = -1/1000^2, r = 300: 284870.286 mm2 (SOURCES.md section 6); distances by the hyperbolic
    // law of cosines. Positions only count the vertices.
    const double radius = 1000.0;
    const test::Surface saddle{[](const Vec2& p) { return Vec3(p.x(), p.y(), 0.0); },
                               [](const Vec2&) { return Vec3(0.0, 0.0, 1.0); },
                               [=](const Vec2& a, const Vec2& b) {
                                   const double r = a.norm() / radius, s = b.norm() / radius;
                                   const double turn = std::atan2(cross2(a, b), a.dot(b));
                                   return radius *
                                          std::acosh(std::cosh(r) * std::cosh(s) -
                                                     std::sinh(r) * std::sinh(s) * std::cos(turn));
                               }};
    const auto mesh = test::on_surface(test::disc(300.0, 60), saddle);
    EXPECT_NEAR(curved_area(mesh) / 284870.286, 1.0, 6e-5);
}

TEST(CurvedArea, OfADevelopableIsThatOfItsFigure) {
    const auto figure = test::disc(300.0, 12);
    const auto mesh = test::on_cylinder(figure, 150.0);
    // A regular polygon of 72 sides.
    const double exact = 36.0 * 300.0 * 300.0 * std::sin(2.0 * std::numbers::pi / 72.0);
    EXPECT_NEAR(curved_area(mesh), exact, exact * 1e-9);
}

/// A round tube that stands in a flat deck, `sides` facets round: rings `row` apart up the tube and
/// out over the deck, three of each.
SurfaceMesh tube_on_deck(double radius, double row, int sides) {
    SurfaceMesh mesh;
    const auto turn = [&](int i) { return 2.0 * std::numbers::pi * i / sides; };
    for (int ring = -3; ring <= 3; ++ring)
        for (int i = 0; i < sides; ++i) {
            const double out = radius + row * std::max(ring, 0);
            mesh.position.emplace_back(out * std::cos(turn(i)), out * std::sin(turn(i)),
                                       -row * std::min(ring, 0));
        }
    for (int ring = 0; ring < 6; ++ring)
        for (int i = 0; i < sides; ++i) {
            const int next = (i + 1) % sides, low = ring * sides, high = low + sides;
            for (const auto& t : {std::array{low + i, high + i, high + next},
                                  std::array{low + i, high + next, low + next}}) {
                mesh.triangle.push_back({t[0], t[1], t[2]});
                auto& normals = mesh.corner_normal.emplace_back();
                for (std::size_t k = 0; k < 3; ++k) {
                    const double angle = turn(t[k] % sides);
                    normals[k] = ring < 3 ? Vec3(std::cos(angle), std::sin(angle), 0.0)
                                          : Vec3(0.0, 0.0, 1.0);
                }
            }
        }
    set_arc_lengths(mesh);
    return mesh;
}

TEST(CurvedArea, OfATubeOnADeckHasTheSegmentsAlongItsFoot) {
    // Closed form: 2 pi R h and a ring whose outer edge is the polygon of the mesh. What is missing
    // of the angles round the foot is its own bend; spread over the facets beside it as if they
    // bulged it left 2.7e-3 out.
    const double radius = 50.0, row = 10.0;
    const int sides = 30;
    const double half = std::numbers::pi / sides, outer = radius + 3.0 * row;
    const double exact = 2.0 * std::numbers::pi * radius * 3.0 * row +
                         sides * outer * outer * std::sin(half) * std::cos(half) -
                         std::numbers::pi * radius * radius;
    EXPECT_NEAR(curved_area(tube_on_deck(radius, row, sides)) / exact, 1.0, 1e-5);
}

TEST(CurvedArea, OfOneTriangleIsHerons) {
    // No inner vertex, so nothing is known of its bulge: 3-4-5 by hand, and a sliver by Kahan's
    // order: sides 1, 1, 1e-8 have an area of half the short side.
    SurfaceMesh mesh;
    mesh.position.resize(3);
    mesh.triangle = {{0, 1, 2}};
    mesh.edge_length = {{3, 4, 5}};
    EXPECT_DOUBLE_EQ(curved_area(mesh), 6.0);
    mesh.edge_length = {{1.0, 1e-8, 1.0}};
    EXPECT_NEAR(curved_area(mesh) / 5e-9, 1.0, 1e-12);
}

}  // namespace
}  // namespace tearline::surface

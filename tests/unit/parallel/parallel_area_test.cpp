// Areas, distances and normals of parallel surfaces against differential geometry: under a surface
// of mean curvature H and Gaussian curvature K, counted positive where it bulges to the laying
// side, an area shrinks by 1 - 2 H d + K d^2 (Steiner, Weyl).
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/parallel/parallel_surface.h"
#include "core/surface/curved_area.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/mesh_checks.h"
#include "tests/unit/parallel/at_depth.h"

namespace tearline::parallel::parallel_area_test {
namespace {

/// A torus of tube radius r about a circle of radius R in the x, y plane, seen from outside its
/// tube at the angle `at` from the outer equator; x runs round the tube, y back along it.
test::AnalyticMap torus_map(double R, double r, double at) {
    return [=](const Vec2& p, int) {
        const double a = at + p.x() / r, b = -p.y() / (R + r * std::cos(at));
        const Vec3 out(std::cos(b), std::sin(b), 0.0);
        const Vec3 n = std::cos(a) * out + std::sin(a) * Vec3(0, 0, 1);
        const double along = std::cos(a) / (R + r * std::cos(a));
        return surface::SurfaceSample{R * out + r * n, n, std::min(1.0 / r, along),
                                      std::max(1.0 / r, along)};
    };
}

/// The area of a patch's chart carried to a depth, by the closed form: the map's own area element
/// (differences of its positions) times 1 - 2 H d + K d^2, by three points a triangle.
double steiner_area(const surface::Patch& patch, const test::AnalyticMap& map, double d) {
    double sum = 0.0;
    for (const auto& v : patch.mesh.triangle) {
        const Vec2 &a = patch.chart[v[0]], &b = patch.chart[v[1]], &c = patch.chart[v[2]];
        const double flat = 0.5 * cross2(b - a, c - a);
        for (const Vec3& sixths : {Vec3(4, 1, 1), Vec3(1, 4, 1), Vec3(1, 1, 4)}) {
            const Vec3 w = sixths / 6.0;
            const Vec2 p = w[0] * a + w[1] * b + w[2] * c;
            const double h = 1e-3;
            const Vec3 x = map(p + Vec2(h, 0), 1).position - map(p - Vec2(h, 0), 1).position;
            const Vec3 y = map(p + Vec2(0, h), 1).position - map(p - Vec2(0, h), 1).position;
            const double element = x.cross(y).norm() / (4 * h * h);
            const auto s = map(p, 1);
            const double mean = 0.5 * (s.curvature_min + s.curvature_max);
            const double gauss = s.curvature_min * s.curvature_max;
            sum += flat / 3.0 * element * (1.0 - 2.0 * mean * d + gauss * d * d);
        }
    }
    return sum;
}

TEST(ParallelArea, FollowsSteinersFormulaOnEveryKindOfSurface) {
    // Bulging, hollow, saddle, and the outside and inside of a torus, below and above the base.
    // Ratios to the base's own area by the same routes: what both meshes miss at their rims, and of
    // fourth order inside, nearly cancels.
    const struct {
        const char* name;
        test::AnalyticMap map;
    } table[] = {
        {"ball", test::sphere_map(120)},         {"bowl", test::sphere_map(-120)},
        {"cylinder", test::cylinder_map(90)},    {"cone", test::cone_map(150, 0.3)},
        {"saddle", test::pseudosphere_map(140)}, {"torus outside", torus_map(200, 80, 0.3)},
        {"torus top", torus_map(200, 80, 1.5)},  {"torus inside", torus_map(200, 80, 2.7)}};
    for (const auto& row : table) {
        const auto patch = test::analytic_patch(row.map, test::within_disc(60), 60, 5.0);
        const double base_mesh = surface::curved_area(patch.mesh);
        const double base_form = steiner_area(patch, row.map, 0.0);
        EXPECT_NEAR(base_mesh / base_form, 1.0, 2e-3) << row.name;
        for (const double d : {-8.0, -2.0, 3.0, 9.0}) {
            const auto s = at_depth(patch, constant(d));
            ASSERT_TRUE(s) << row.name << s.error().message();
            EXPECT_NEAR(surface::curved_area(s->mesh) / base_mesh,
                        steiner_area(patch, row.map, d) / base_form, 2e-4)
                << row.name << " " << d;
        }
    }
}

TEST(ParallelArea, LiesAtItsDepthBelowATorus) {
    // Closed form: below the tube of radius r the parallel is the tube of radius r - d, with the
    // same normals.
    const double R = 200.0, r = 80.0;
    const auto patch = test::analytic_patch(torus_map(R, r, 0.9), test::within_disc(60), 60, 6.0);
    for (const double d : {-15.0, 7.0, 40.0}) {
        const auto s = at_depth(patch, constant(d));
        ASSERT_TRUE(s) << s.error().message();
        test::expect_manifold(s->mesh);
        ASSERT_EQ(s->mesh.triangle.size(), patch.mesh.triangle.size());
        for (std::size_t t = 0; t < s->mesh.triangle.size(); ++t)
            for (int k = 0; k < 3; ++k) {
                const Vec3& p = s->mesh.position[s->mesh.triangle[t][k]];
                const Vec3 centre = R * Vec3(p.x(), p.y(), 0.0).normalized();
                EXPECT_NEAR((p - centre).norm(), r - d, 1e-9);
                EXPECT_LT((s->mesh.corner_normal[t][k] - (p - centre).normalized()).norm(), 1e-9);
            }
        for (std::size_t v = 0; v < s->base.size(); ++v)
            EXPECT_NEAR((s->mesh.position[v] - s->base[v]).norm(), std::abs(d), 1e-9);
    }
}

TEST(ParallelArea, AtNoDepthIsTheBaseItself) {
    // Creases neither trim nor open there.
    for (const double turn : {0.8, -0.8}) {
        const auto patch =
            test::analytic_patch(test::wedge_map(turn), test::within_box(50, 40), 60, 8.0, true);
        const auto s = at_depth(patch, constant(0.0));
        ASSERT_TRUE(s) << s.error().message();
        EXPECT_EQ(s->mesh.position.size(), patch.mesh.position.size());
        EXPECT_EQ(s->mesh.triangle.size(), patch.mesh.triangle.size());
        EXPECT_TRUE(s->trimmed.empty());
        for (std::size_t v = 0; v < s->base.size(); ++v) {
            EXPECT_LT((s->mesh.position[v] - s->base[v]).norm(), 1e-12);
            // The base point is the one over its own chart point.
            const Vec3 over =
                test::wedge_map(turn)(s->chart[v], s->chart[v].x() < 0 ? -1 : 1).position;
            EXPECT_LT((s->base[v] - over).norm(), 1e-9);
        }
    }
}

TEST(ParallelArea, OfAPlaneUnderASlantingDishIsASlantingPlane) {
    // By hand: depth 4 + 0.05 x - 0.12 y under z = 0 is the plane z = -depth; its normal is along
    // (0.05, -0.12, 1), its area larger by sqrt(1 + 0.05^2 + 0.12^2).
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(60), 60, 7.0);
    const DepthAtChart slant = [](const Vec2& p) { return 4.0 + 0.05 * p.x() - 0.12 * p.y(); };
    const auto s = at_depth(patch, slant);
    ASSERT_TRUE(s) << s.error().message();
    const Vec3 normal = Vec3(0.05, -0.12, 1.0).normalized();
    for (std::size_t v = 0; v < s->mesh.position.size(); ++v)
        EXPECT_NEAR(s->mesh.position[v].z(), -slant(s->chart[v]), 1e-12);
    for (const auto& corners : s->mesh.corner_normal)
        for (const Vec3& n : corners) EXPECT_LT((n - normal).norm(), 1e-9);
    EXPECT_NEAR(surface::curved_area(s->mesh) / surface::curved_area(patch.mesh), 1.0 / normal.z(),
                1e-9);
}

TEST(ParallelArea, UnderAConicalDishLeansByItsScarf) {
    // Depth 20 - |p| / 4 over the plane: a cone whose normals lean towards the middle by 1 in 4,
    // along (-p / 4 |p|, 1); each flat facet of it is exact for its own slope.
    const auto patch = test::analytic_patch(
        test::plane_map, [](const Vec2& p) { return p.norm() <= 70 && p.norm() >= 20; }, 70, 5.0);
    const auto s = at_depth(patch, [](const Vec2& p) { return 20.0 - p.norm() / 4.0; });
    ASSERT_TRUE(s) << s.error().message();
    for (std::size_t t = 0; t < s->mesh.triangle.size(); ++t) {
        const auto& v = s->mesh.triangle[t];
        const Vec2 middle = (s->chart[v[0]] + s->chart[v[1]] + s->chart[v[2]]) / 3.0;
        const Vec2 in = -middle.normalized() / 4.0;
        const Vec3 normal = Vec3(in.x(), in.y(), 1.0).normalized();
        // Over an edge of 5 mm at 20 mm the radius turns by 0.25 rad, a quarter of which leans.
        for (const Vec3& n : s->mesh.corner_normal[t]) EXPECT_LT((n - normal).norm(), 0.07);
    }
    // Lateral area: the base's times sqrt(1 + 1/16), facets of a polygonal cone miss little.
    EXPECT_NEAR(surface::curved_area(s->mesh) / surface::curved_area(patch.mesh),
                std::sqrt(1.0 + 1.0 / 16.0), 1e-3);
}

TEST(ParallelArea, RefusesADepthBeyondTheRadius) {
    // A tube of radius 20 has no parallel 25 mm in: one radius changes its sign, the other has
    // none, and its triangles would lie upside down. From inside the same tube only grows.
    const auto tube = test::analytic_patch(test::cylinder_map(20), test::within_disc(15), 15, 3.0);
    EXPECT_TRUE(at_depth(tube, constant(15.0)));
    const auto over = at_depth(tube, constant(25.0));
    ASSERT_FALSE(over);
    EXPECT_EQ(over.error().kind, ErrorKind::no_safe_answer);
    const auto hollow =
        test::analytic_patch(test::cylinder_map(-20), test::within_disc(15), 15, 3.0);
    EXPECT_TRUE(at_depth(hollow, constant(25.0)));
}

TEST(ParallelCrease, SaysHowMuchIsLostAndWhere) {
    // Closed form: 2 d tan(f/2) trimmed, |d f| opened; the crease is 80 mm of the chart's x = 0.
    for (const double turn : {0.7, -0.7})
        for (const double d : {4.0, -4.0}) {
            const auto patch = test::analytic_patch(test::wedge_map(turn), test::within_box(50, 40),
                                                    60, 8.0, true);
            const auto s = at_depth(patch, constant(d));
            ASSERT_TRUE(s) << s.error().message();
            ASSERT_EQ(s->creases.size(), 1u);
            const CreaseMet& met = s->creases[0];
            EXPECT_NEAR(met.turn, turn, 1e-12);
            EXPECT_EQ(met.depth, d);
            EXPECT_NEAR(met.length, 80.0, 1e-9);
            EXPECT_NEAR(met.at.head<1>()[0], 0.0, 1e-12);
            const bool trims = turn * d > 0;
            EXPECT_NEAR(met.trimmed, trims ? 2 * 4.0 * std::tan(0.35) : 0.0, 1e-12);
            EXPECT_NEAR(met.opened, trims ? 0.0 : 4.0 * 0.7, 1e-12);
            EXPECT_EQ(s->trimmed.size(), trims ? 1u : 0u);
        }
}

TEST(ParallelCrease, StripsHoldWhatHasNoPointAtDepth) {
    // On a plane wedge the strip is d tan(f/2) wide on each side, and goes somewhat beyond the
    // mesh.
    const double turn = 0.9, d = 6.0, width = d * std::tan(0.45);
    const auto patch =
        test::analytic_patch(test::wedge_map(turn), test::within_box(50, 40), 60, 8.0, true);
    const auto s = at_depth(patch, constant(d));
    ASSERT_TRUE(s) << s.error().message();
    ASSERT_EQ(s->trimmed.size(), 1u);
    for (const Vec2& p : s->trimmed[0]) EXPECT_NEAR(std::abs(p.x()), width, 1e-9);
    for (const double y : {-39.0, 0.0, 17.0, 39.0}) {
        EXPECT_TRUE(contains(s->trimmed[0], Vec2(0.99 * width, y)));
        EXPECT_TRUE(contains(s->trimmed[0], Vec2(-0.99 * width, y)));
        EXPECT_FALSE(contains(s->trimmed[0], Vec2(1.01 * width, y)));
    }
    EXPECT_GT(signed_area(s->trimmed[0]), 0.0);
    // Nothing that is left has its base inside the strip.
    for (const auto& corners : s->corner_chart)
        for (const Vec2& p : corners) EXPECT_GT(std::abs(p.x()), width - 1e-6);
}

TEST(ParallelCrease, OpensAsAnArcOfItsDepth) {
    // Every vertex of the band lies at |d| from the crease line; the band's area is d f a length,
    // its triangles are marked, and no segment turns more than 0.53 rad: for 1.4 rad three.
    const double turn = -1.4, d = 5.0;
    const auto patch =
        test::analytic_patch(test::wedge_map(turn), test::within_box(50, 40), 60, 8.0, true);
    const auto s = at_depth(patch, constant(d));
    ASSERT_TRUE(s) << s.error().message();
    double band = 0.0;
    std::size_t marked = 0;
    for (std::size_t t = 0; t < s->mesh.triangle.size(); ++t) {
        if (!s->arc[t]) continue;
        ++marked;
        const auto& l = s->mesh.edge_length[t];
        const double half = 0.5 * (l[0] + l[1] + l[2]);
        band += std::sqrt(half * (half - l[0]) * (half - l[1]) * (half - l[2]));
        for (int k = 0; k < 3; ++k) {
            const Vec3& p = s->mesh.position[s->mesh.triangle[t][k]];
            EXPECT_NEAR(Vec3(p.x(), 0.0, p.z()).norm(), d, 1e-9);
            // Normals run from the vertex to the crease's line.
            const Vec3 normal = -Vec3(p.x(), 0.0, p.z()) / d;
            EXPECT_LT((s->mesh.corner_normal[t][k] - normal).norm(), 1e-9);
            EXPECT_EQ(s->corner_chart[t][k].x(), 0.0);
        }
    }
    EXPECT_EQ(marked, 10u * 3u * 2u);  // 80 mm in edges of 8, three segments, two triangles each
    EXPECT_NEAR(band, d * 1.4 * 80.0, 1e-4);  // slanting arcs: fourth order
    for (const auto& edges : s->crease)
        for (const bool is : edges) EXPECT_FALSE(is) << "an arc has no ridge";
}

TEST(ParallelCrease, MarksItsRidge) {
    // Each edge of the ridge is marked from both sides. The rim falls back by half an edge, 4 mm,
    // to the next column of vertices, 8 sqrt(3)/2 mm off: over the 5 tan(f/2) that are trimmed the
    // crease's 80 mm lose that share at both ends.
    const auto patch =
        test::analytic_patch(test::wedge_map(0.785), test::within_box(50, 40), 60, 8.0, true);
    const auto s = at_depth(patch, constant(5.0));
    ASSERT_TRUE(s) << s.error().message();
    double length = 0.0;
    for (std::size_t t = 0; t < s->mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (s->crease[t][i]) {
                length += 0.5 * s->mesh.edge_length[t][i];
                for (const int k : {i, (i + 1) % 3}) {
                    const Vec3& p = s->mesh.position[s->mesh.triangle[t][k]];
                    EXPECT_NEAR(p.x(), 0.0, 1e-9);
                    EXPECT_NEAR(p.z(), -5.0 / std::cos(0.3925), 1e-9);
                }
            }
    const double back = 4.0 * 5.0 * std::tan(0.3925) / (8.0 * std::sqrt(3.0) / 2.0);
    EXPECT_NEAR(length, 80.0 - 2.0 * back, 1e-6);
}

}  // namespace
}  // namespace tearline::parallel::parallel_area_test

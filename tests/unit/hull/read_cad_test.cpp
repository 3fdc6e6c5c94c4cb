#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "core/base/side_by_side.h"
#include "core/hull/read_hull.h"

namespace tearline::hull::read_cad_test {
namespace {

using std::numbers::pi;

Hull sample(const std::string& name, const std::string& outward = "auto") {
    job::HullOptions options;
    options.model = std::string(TEARLINE_SAMPLES) + "/" + name;
    options.outward = outward;
    auto hull = read_hull(options, job::Side::outside);
    if (!hull) throw std::runtime_error(hull.error().message());
    return *hull;
}

/// Largest distance between a mesh vertex and the exact point of its own parameters [mm].
double worst_vertex(const Hull& hull) {
    double worst = 0.0;
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 exact = hull.cad->evaluate(hull.face[t], hull.corner_uv[t][k]).position;
            const auto v = static_cast<std::size_t>(hull.triangles[t][k]);
            worst = std::max(worst, (exact - hull.vertices[v]).norm());
        }
    }
    return worst;
}

// Second computation: the same places asked for one after the other.
TEST(ReadCad, FacesAnswerSeveralThreadsAtOnceAsTheyAnswerOne) {
    const Hull hull = sample("curlew.step");
    const auto asked = [&](std::size_t t) {
        const auto& uv = hull.corner_uv[t];
        return hull.cad->evaluate(hull.face[t], (uv[0] + uv[1] + uv[2]) / 3.0);
    };
    const std::size_t count = hull.triangles.size();
    ASSERT_GT(count, 100u);
    std::vector<FacePoint> together(count), alone;
    side_by_side(count, [&](std::size_t t) { together[t] = asked(t); });
    for (std::size_t t = 0; t < count; ++t) alone.push_back(asked(t));
    for (std::size_t t = 0; t < count; ++t) {
        ASSERT_EQ(together[t].position, alone[t].position);
        ASSERT_EQ(together[t].duu, alone[t].duu);
    }
    std::vector<Vec3> points(hull.cad_edges.size());
    const auto on_edge = [&](std::size_t i) {
        return hull.cad->edge_point(hull.cad_edges[i].edge, hull.cad_edges[i].parameter_from);
    };
    side_by_side(points.size(), [&](std::size_t i) { points[i] = on_edge(i); });
    for (std::size_t i = 0; i < points.size(); ++i) ASSERT_EQ(points[i], on_edge(i));
}

TEST(ReadCad, MeshVerticesLieOnTheFacesAtTheirOwnParameters) {
    for (const char* name : {"curlew.step", "wigley.step", "cone.step", "sphere.step"}) {
        EXPECT_LT(worst_vertex(sample(name)), 1e-6) << name;
    }
    // The rolled bilge meets its neighbours to the fillet's own approximation.
    EXPECT_LT(worst_vertex(sample("sandpiper.step")), 1e-4);
}

TEST(ReadCad, MeshEdgesLieOnTheCadEdgesAtTheirOwnParameters) {
    const Hull hull = sample("curlew.step");
    ASSERT_FALSE(hull.cad_edges.empty());
    for (const EdgeOnCad& e : hull.cad_edges) {
        const Vec3& from = hull.vertices[static_cast<std::size_t>(e.from)];
        const Vec3& to = hull.vertices[static_cast<std::size_t>(e.to)];
        EXPECT_LT((hull.cad->edge_point(e.edge, e.parameter_from) - from).norm(), 1e-6);
        EXPECT_LT((hull.cad->edge_point(e.edge, e.parameter_to) - to).norm(), 1e-6);
    }
}

TEST(ReadCad, OutwardSignTurnsTheFacesNormalOutOfTheHull) {
    // Every sample but the panel bulges round its own middle line: outward is away from it.
    for (const char* name : {"cylinder.step", "cone.step", "frustum.step", "sphere.step"}) {
        const Hull hull = sample(name);
        for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
            const auto& uv = hull.corner_uv[t];
            const FacePoint p = hull.cad->evaluate(hull.face[t], (uv[0] + uv[1] + uv[2]) / 3.0);
            const Vec3 outward =
                hull.cad->outward_sign(hull.face[t]) * p.du.cross(p.dv).normalized();
            const Vec3 from_axis(0.0, p.position.y(), p.position.z());
            ASSERT_GT(outward.dot(from_axis), 0.0) << name << " at " << p.position.transpose();
        }
    }
}

TEST(ReadCad, AreasAreThoseOfTheExactSurfaces) {
    // Closed forms; the Wigley hull's wetted area over L (2T + B) is a published value, 0.66129169.
    EXPECT_NEAR(sample("cylinder.step").report.area_mm2, 1e6 * pi, 1.0);
    EXPECT_NEAR(sample("sphere.step").report.area_mm2, 360e3 * 2 * pi / 3 * std::sqrt(3.0), 65.0);
    EXPECT_NEAR(sample("cone.step").report.area_mm2,
                pi * (600.0 * 600.0 - 100.0 * 100.0) / std::sin(20.0 * pi / 180.0), 1.0);
    EXPECT_NEAR(sample("wigley.step").report.area_mm2, 0.66129169 * 4000.0 * 900.0, 120.0);
}

TEST(ReadCad, OpenHullsHaveOneOpeningOfTheKnownLength) {
    // Half a cylinder: two half circles of radius 500 and two sides of 2000, by hand.
    const Hull hull = sample("cylinder.step");
    ASSERT_EQ(hull.report.opening_lengths.size(), 1u);
    EXPECT_NEAR(hull.report.opening_lengths[0], 2 * pi * 500.0 + 4000.0, 3.0);
    EXPECT_FALSE(hull.report.closed);
}

TEST(ReadCad, SewnFacesMakeOneSurfaceWithOneOpening) {
    for (const char* name : {"curlew.step", "sandpiper.step", "wigley.step"}) {
        EXPECT_EQ(sample(name).report.opening_lengths.size(), 1u) << name;
    }
}

TEST(ReadCad, AFlatPanelAsksForOutward) {
    job::HullOptions options;
    options.model = std::string(TEARLINE_SAMPLES) + "/panel.step";
    const auto hull = read_hull(options, job::Side::outside);
    ASSERT_FALSE(hull);
    EXPECT_NE(hull.error().message().find("hull.outward"), std::string::npos);
}

TEST(ReadCad, AsModelledAndReversedDiffer) {
    const Hull kept = sample("panel.step", "as modelled");
    const Hull turned = sample("panel.step", "reversed");
    const auto normal = [](const Hull& hull) {
        const auto& t = hull.triangles.front();
        const Vec3& a = hull.vertices[static_cast<std::size_t>(t[0])];
        return Vec3((hull.vertices[static_cast<std::size_t>(t[1])] - a)
                        .cross(hull.vertices[static_cast<std::size_t>(t[2])] - a)
                        .normalized());
    };
    EXPECT_NEAR(normal(kept).y(), 1.0, 1e-12);
    EXPECT_NEAR(normal(turned).y(), -1.0, 1e-12);
}

}  // namespace
}  // namespace tearline::hull::read_cad_test

#include "core/patch/mesh_carrier.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/remesh_meshes.h"

namespace tearline::patch {
namespace {

/// Anchors as a mesh that was read has them: the facet's own corners.
remesh::RemeshMesh as_read(const test::PlaneMesh& figure,
                           const std::function<Vec3(const Vec2&)>& raised, bool ends = false) {
    auto mesh = test::remesh_mesh(figure, raised);
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i) {
            mesh.triangle[t].anchor[i] = {t.value, Vec2(i == 1 ? 1.0 : 0.0, i == 2 ? 1.0 : 0.0)};
            mesh.triangle[t].kept[i].hull_end = ends && !mesh.triangle[t].neighbour[i].valid();
        }
    return mesh;
}

std::function<Vec3(const Vec2&)> ball(double R) {
    return [R](const Vec2& p) {
        const double r = p.norm(), a = r / R;
        const Vec2 e = r > 0.0 ? Vec2(p / r) : Vec2(1, 0);
        return Vec3(R * std::sin(a) * e.x(), R * std::sin(a) * e.y(), R * std::cos(a));
    };
}

TEST(MeshCarrier, CarriesToTheSphereThroughTheFacets) {
    // Closed form: the foot lies on the ray from the centre. Cubic facets over edges of 9 mm on
    // radius 100 miss it by the fourth power of edge / R, where the flat ones are 0.1 mm short.
    const double R = 100.0;
    auto mesh = as_read(test::disc(80, 9), ball(R));
    const auto carrier = make_mesh_carrier(mesh);
    std::mt19937 random(64);  // fixed start value
    std::uniform_real_distribution<double> across(-45.0, 45.0), off(-4.0, 4.0);
    double flat = 0.0;
    for (int k = 0; k < 200; ++k) {
        const Vec3 out = ball(1.0)(Vec2(across(random), across(random)) / R);
        const Vec3 point = (R + off(random)) * out;
        const auto found = carrier->carry({0, {0.2, 0.3}}, point);
        EXPECT_LT((found.position - R * out).norm(), 0.01) << k;
        EXPECT_LT((found.normal - out).norm(), 2e-3);
        EXPECT_NEAR(found.curvature_min, 1.0 / R, 0.02 / R);
        EXPECT_NEAR(found.curvature_max, 1.0 / R, 0.02 / R);
        const auto& v = mesh.triangle[TriangleId(found.anchor.face)].vertex;
        const Vec3 on_facet = (1 - found.anchor.uv.sum()) * mesh.vertex[v[0]].position +
                              found.anchor.uv[0] * mesh.vertex[v[1]].position +
                              found.anchor.uv[1] * mesh.vertex[v[2]].position;
        flat = std::max(flat, R - on_facet.norm());
    }
    EXPECT_GT(flat, 0.05) << "the facets themselves are no sphere";
}

TEST(MeshCarrier, OfFlatFacetsIsTheirPlane) {
    const Eigen::Matrix3d turn =
        Eigen::AngleAxisd(0.8, Vec3(1, 2, -1).normalized()).toRotationMatrix();
    auto mesh = as_read(test::rectangle_mesh(100, 60, 5, 3),
                        [&](const Vec2& p) { return Vec3(turn * Vec3(p.x(), p.y(), 0.0)); });
    const auto carrier = make_mesh_carrier(mesh);
    const Vec3 normal = turn * Vec3(0, 0, 1);
    for (const Vec2& p : {Vec2(3, 4), Vec2(51, 30), Vec2(97, 2)}) {
        const Vec3 foot = turn * Vec3(p.x(), p.y(), 0.0);
        const auto found = carrier->carry({29, {0.3, 0.3}}, foot + 7.0 * normal);
        EXPECT_LT((found.position - foot).norm(), 1e-9);
        EXPECT_LT((found.normal - normal).norm(), 1e-9);
        EXPECT_NEAR(found.curvature_min, 0.0, 1e-12);
        EXPECT_NEAR(found.curvature_max, 0.0, 1e-12);
    }
}

TEST(MeshCarrier, HasTheTwoCurvaturesOfATube) {
    // Closed form: nothing along the tube, 1 / R round it; hollow from the other side, where the
    // facets are turned over.
    const double R = 60.0;
    const auto tube = [&](const Vec2& p) {
        const double a = p.x() / R;
        return Vec3(R * std::sin(a), p.y(), R * std::cos(a));
    };
    auto figure = test::rectangle_mesh(80, 60, 20, 12);
    for (const double side : {1.0, -1.0}) {
        auto turned = figure;
        if (side < 0)
            for (auto& t : turned.triangle) std::swap(t[1], t[2]);
        auto mesh = as_read(turned, tube);
        const auto found = make_mesh_carrier(mesh)->carry({0, {0, 0}}, tube({41, 33}));
        EXPECT_LT((found.position - tube({41, 33})).norm(), 0.003);
        EXPECT_NEAR(side > 0 ? found.curvature_max : -found.curvature_min, 1.0 / R, 0.01 / R);
        EXPECT_NEAR(side > 0 ? found.curvature_min : found.curvature_max, 0.0, 0.01 / R);
    }
}

TEST(MeshCarrier, FlatsThatRunIntoAFilletStayFlat) {
    // As CAD programs export them, a facet as long as the flat beside the fillet's of 11 degrees:
    // closed form, the flat z = 0 up to the common tangent at x = 0, the fillet a tube.
    const double R = 15.0, flat = 300.0, arcs = 8.0;
    const auto profile = [&](const Vec2& p) {
        const double a = 0.5 * std::numbers::pi * (p.x() - 1.0) / arcs;
        if (a < 0.0) return Vec3(flat * (p.x() - 1.0), p.y(), 0.0);
        return Vec3(R * std::sin(a), p.y(), R * std::cos(a) - R);
    };
    auto mesh = as_read(test::rectangle_mesh(1.0 + arcs, 24, 9, 4), profile);
    const auto carrier = make_mesh_carrier(mesh);
    for (const double x : {0.05, 0.3, 0.6, 0.95}) {
        const Vec3 foot = profile({x, 13});
        const auto found = carrier->carry({0, {0.2, 0.3}}, foot + 4.0 * Vec3(0, 0, 1));
        EXPECT_LT((found.position - foot).norm(), 1e-9) << x;
        EXPECT_LT((found.normal - Vec3(0, 0, 1)).norm(), 1e-9) << x;
    }
    for (const double x : {1.5, 2.5, 5.0})
        EXPECT_LT(
            (carrier->carry({0, {0.2, 0.3}}, profile({x, 13})).position - profile({x, 13})).norm(),
            0.01)
            << x;
}

TEST(MeshCarrier, KeepsCreasesAndHullEndsAsEdges) {
    // A roof of 45 degrees over x = 50: its ridge is kept with the normals of both sides apart; the
    // rim is kept where it is the hull's own end, and not where the mesh was cropped.
    const double s = std::tan(22.5 * std::numbers::pi / 180);
    const auto roof = [&](const Vec2& p) { return Vec3(p.x(), p.y(), -s * std::abs(p.x() - 50)); };
    const auto figure = test::rectangle_mesh(100, 60, 10, 6);
    auto mesh = as_read(figure, roof);
    const auto carrier = make_mesh_carrier(mesh);
    int kept = 0;
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            if (!t.kept[i].kept()) continue;
            ++kept;
            for (const double share : {0.0, 0.3, 1.0}) {
                const double p = t.kept[i].from + share * (t.kept[i].to - t.kept[i].from);
                const Vec3 at = carrier->edge_point(t.kept[i].edge, p);
                EXPECT_NEAR(at.x(), 50.0, 1e-9);
                EXPECT_NEAR(at.z(), 0.0, 1e-9);
            }
        }
    EXPECT_EQ(kept, 2 * 6);
    for (const double side : {-1.0, 1.0}) {
        const Vec3 foot = roof({50 + 30 * side, 20});
        const Vec3 n = Vec3(side * s, 0, 1).normalized();
        const auto found = carrier->carry({side < 0 ? 0 : 119, {0.3, 0.3}}, foot + 2.0 * n);
        EXPECT_LT((found.position - foot).norm(), 1e-9);
        EXPECT_LT((found.normal - n).norm(), 1e-9);
    }
    auto ended = as_read(figure, roof, true);
    (void)make_mesh_carrier(ended);
    int rim = 0;
    for (const auto& t : ended.triangle)
        for (int i = 0; i < 3; ++i) rim += !t.neighbour[i].valid() && t.kept[i].kept() ? 1 : 0;
    EXPECT_EQ(rim, 2 * (10 + 6));
}

TEST(MeshCarrier, TellsTheSidesOfACreaseApart) {
    // Two anchors of one vertex are the same place where their normals agree: on a smooth surface,
    // not across a crease.
    const auto roof = [](const Vec2& p) { return Vec3(p.x(), p.y(), -0.8 * std::abs(p.x() - 50)); };
    const auto flat = [](const Vec2& p) { return Vec3(p.x(), p.y(), 0.0); };
    for (const bool creased : {false, true}) {
        auto mesh = as_read(test::rectangle_mesh(100, 60, 10, 6),
                            creased ? std::function<Vec3(const Vec2&)>(roof) : flat);
        const auto carrier = make_mesh_carrier(mesh);
        std::vector<surface::Anchor> left, right;
        for (const auto& t : mesh.triangle) {
            double middle = 0.0;
            for (const VertexId v : t.vertex) middle += mesh.vertex[v].position.x() / 3.0;
            for (int i = 0; i < 3; ++i)
                if ((mesh.vertex[t.vertex[i]].position.head<2>() - Vec2(50, 30)).norm() < 1e-9)
                    (middle < 50 ? left : right).push_back(t.anchor[i]);
        }
        ASSERT_FALSE(left.empty());
        ASSERT_FALSE(right.empty());
        EXPECT_TRUE(carrier->same(left.front(), left.back()));
        EXPECT_EQ(carrier->same(left.front(), right.front()), !creased);
    }
}

TEST(MeshCarrier, FindsItsWayFromAnywhere) {
    // The foot does not hang on where the search begins, across the whole of the mesh.
    auto mesh = as_read(test::disc(80, 9), ball(120));
    const auto carrier = make_mesh_carrier(mesh);
    const Vec3 point = 121.0 * ball(1.0)(Vec2(-50, 20) / 120);
    const auto first = carrier->carry({0, {0.1, 0.1}}, point);
    for (const std::int32_t face : {17, 100, 250, 401, 485})
        EXPECT_LT((carrier->carry({face, {0.3, 0.3}}, point).position - first.position).norm(),
                  1e-5)
            << face;
}

}  // namespace
}  // namespace tearline::patch

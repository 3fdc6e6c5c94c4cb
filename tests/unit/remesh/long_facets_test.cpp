#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "core/remesh/remesh.h"
#include "tests/support/remesh_meshes.h"

namespace tearline::remesh {
namespace {

/// A cylinder about the y axis with a CAD face's own edges: its seam (0) and its two ends (1, 2).
class TubeCarrier final : public surface::Carrier {
public:
    TubeCarrier(double radius, double length) : radius_(radius), length_(length) {}
    [[nodiscard]] Vec3 at(double turn, double y) const {
        return {radius_ * std::sin(turn), y, radius_ * std::cos(turn)};
    }
    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        const double turn =
            start.uv.x() +
            std::remainder(std::atan2(point.x(), point.z()) - start.uv.x(), 2.0 * std::numbers::pi);
        return {{0, Vec2(turn, point.y())},
                at(turn, point.y()),
                at(turn, 0.0) / radius_,
                0.0,
                1.0 / radius_};
    }
    [[nodiscard]] surface::Anchor between(const std::array<surface::Anchor, 3>& corner,
                                          const Vec3& weights) const override {
        return {0,
                weights[0] * corner[0].uv + weights[1] * corner[1].uv + weights[2] * corner[2].uv};
    }
    [[nodiscard]] bool same(const surface::Anchor& a, const surface::Anchor& b) const override {
        return (a.uv - b.uv).norm() < 1e-9;
    }
    [[nodiscard]] Vec3 edge_point(std::int32_t edge, double parameter) const override {
        return edge == 0 ? at(0.0, parameter) : at(parameter, edge == 1 ? 0.0 : length_);
    }

private:
    double radius_, length_;
};

/// A tube as CAD programs mesh one: facets as long as itself.
RemeshMesh tube_of_long_facets(const TubeCarrier& tube, double length, int facets) {
    RemeshMesh mesh;
    const double step = 2.0 * std::numbers::pi / facets;
    for (int k = 0; k < facets; ++k)
        for (const double y : {0.0, length}) mesh.vertex.add({tube.at(k * step, y), 0.0, {}});
    for (int k = 0; k < facets; ++k) {
        const int next = (k + 1) % facets;
        const double here = k * step, there = here + step;
        const std::array vertex{VertexId(2 * k), VertexId(2 * next), VertexId(2 * next + 1),
                                VertexId(2 * k + 1)};
        const std::array<surface::Anchor, 4> anchor{
            {{0, {here, 0.0}}, {0, {there, 0.0}}, {0, {there, length}}, {0, {here, length}}}};
        std::array<KeptEdge, 4> kept{};
        kept[0] = {1, here, there, true};
        if (next == 0) kept[1] = {0, 0.0, length, false};
        kept[2] = {2, there, here, true};
        if (k == 0) kept[3] = {0, length, 0.0, false};
        // Diagonals run as they come.
        const int from = k % 4 == 2 ? 0 : 1;
        for (const int first : {from, from + 2}) {
            RemeshTriangle t;
            for (int i = 0; i < 3; ++i) {
                t.vertex[i] = vertex[(first + i) % 4];
                t.anchor[i] = anchor[(first + i) % 4];
                if (i < 2) t.kept[i] = kept[(first + i) % 4];
            }
            mesh.triangle.add(t);
        }
    }
    mesh.connect();
    return mesh;
}

TEST(Remesh, OfATubeOfFacetsAsLongAsItselfStaysOnIt) {
    // Closed form: the cylinder.
    constexpr double R = 60.0;
    const TubeCarrier tube(R, 1000.0);
    RemeshMesh mesh = tube_of_long_facets(tube, 1000.0, 36);
    remesh(mesh, tube, {29.5, 14.8, 0.5});
    test::expect_sound(mesh);
    for (const RemeshVertex& v : mesh.vertex)
        ASSERT_NEAR(std::hypot(v.position.x(), v.position.z()), R, 1e-9) << v.position.transpose();
    for (const TriangleId t : mesh.triangle.ids()) {
        const Vec3 middle = mesh.point(t, 0) + mesh.point(t, 1) + mesh.point(t, 2);
        const Vec3 out = Vec3(middle.x(), 0.0, middle.z()).normalized();
        ASSERT_GT(std::abs(mesh.area_vector(t).normalized().dot(out)), 0.7);
    }
}

TEST(FlipToDelaunay, AFacetWithoutAnAreaGoesThoughTheOthersFaceTheSurfaceBadly) {
    // Corners of a facet over a third of the tube are 60 degrees off it, and beside it three
    // vertices lie on one line.
    const TubeCarrier tube(60.0, 1000.0);
    const double turn = 2.0 * std::numbers::pi / 3.0;
    const std::array<Vec2, 5> uv{{{0, 0}, {turn, 0}, {turn, 1000}, {0, 1000}, {0, 500}}};
    RemeshMesh mesh;
    for (const Vec2& p : uv) mesh.vertex.add({tube.at(p.x(), p.y()), 0.0, {}});
    for (const std::array<int, 3>& corners :
         {std::array{0, 1, 2}, std::array{0, 2, 3}, std::array{0, 3, 4}}) {
        RemeshTriangle t;
        for (int i = 0; i < 3; ++i) {
            t.vertex[i] = VertexId(corners[i]);
            t.anchor[i] = {0, uv[corners[i]]};
        }
        mesh.triangle.add(t);
    }
    mesh.connect();
    flip_to_delaunay(mesh, tube);
    for (const TriangleId t : mesh.triangle.ids()) EXPECT_GT(mesh.area_vector(t).norm(), 1.0);
}

}  // namespace
}  // namespace tearline::remesh

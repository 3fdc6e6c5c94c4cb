#include "core/flattening/membrane_start.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "tests/support/analytic_meshes.h"

namespace tearline::flattening {
namespace {

int turned_over(const surface::SurfaceMesh& mesh, const Places& at) {
    int count = 0;
    for (const auto& v : mesh.triangle)
        count += cross2(at.col(v[1]) - at.col(v[0]), at.col(v[2]) - at.col(v[0])) > 0.0 ? 0 : 1;
    return count;
}

TEST(PlaneStart, IsTheFigureItselfSeenSquareOn) {
    // A flat mesh anywhere in space: every distance is kept, and counter-clockwise stays.
    const auto figure = test::with_hole(test::disc(60, 5), {20, 0}, 15);
    const Eigen::Matrix3d turn =
        Eigen::AngleAxisd(1.9, Vec3(2, 1, -0.4).normalized()).toRotationMatrix();
    surface::SurfaceMesh mesh;
    mesh.triangle = figure.triangle;
    for (const Vec2& p : figure.place)
        mesh.position.emplace_back(turn * Vec3(p.x(), p.y(), 0.0) + Vec3(1000, -30, 4));
    const auto at = plane_start(mesh);
    ASSERT_TRUE(at);
    for (std::size_t i = 0; i < figure.place.size(); ++i)
        for (std::size_t j = 0; j < i; j += 5) {
            const double seen =
                (at->col(static_cast<Eigen::Index>(i)) - at->col(static_cast<Eigen::Index>(j)))
                    .norm();
            EXPECT_NEAR(seen, (figure.place[i] - figure.place[j]).norm(), 1e-9);
        }
    EXPECT_EQ(turned_over(mesh, *at), 0);
}

TEST(PlaneStart, LooksAlongTheMeanNormal) {
    // A cap about +z by symmetry: seen from the pole, r = R sin a. The pole itself is the origin.
    const double R = 100.0;
    const auto mesh = test::on_sphere(test::disc(80, 6), R);
    const auto at = plane_start(mesh);
    ASSERT_TRUE(at);
    for (std::size_t i = 0; i < mesh.position.size(); ++i)
        EXPECT_NEAR(at->col(static_cast<Eigen::Index>(i)).norm(), mesh.position[i].head<2>().norm(),
                    1e-9);
}

TEST(PlaneStart, IsNoneWhereNoSideIsSeen) {
    // A tube's normals cancel; and a mesh of lengths alone has no positions.
    const auto tube = test::on_cylinder(test::disc(60, 5), 100);
    EXPECT_TRUE(plane_start(tube));
    surface::SurfaceMesh closed;
    for (int i = 0; i < 24; ++i) {
        const double a = 2 * std::numbers::pi * i / 24;
        for (const double z : {0.0, 20.0})
            closed.position.emplace_back(30 * std::cos(a), 30 * std::sin(a), z);
    }
    for (int i = 0; i < 24; ++i) {
        const int a = 2 * i, b = (2 * i + 2) % 48;
        closed.triangle.push_back({a, b, a + 1});
        closed.triangle.push_back({b, b + 1, a + 1});
    }
    EXPECT_FALSE(plane_start(closed));
    surface::SurfaceMesh lengths_alone;
    lengths_alone.triangle = {{0, 1, 2}};
    EXPECT_FALSE(plane_start(lengths_alone));
}

TEST(CircleStart, PutsEveryInnerVertexInTheMiddleOfItsNeighbours) {
    // Tutte's condition itself, vertex by vertex; each edge of two triangles counts twice alike.
    const auto mesh = test::on_sphere(test::disc(70, 6), 60.0);
    const double area = 9000.0;
    const auto at = circle_start(mesh, area);
    ASSERT_TRUE(at);
    std::map<std::int32_t, std::set<std::int32_t>> round;
    for (const auto& v : mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            round[v[i]].insert(v[(i + 1) % 3]);
            round[v[(i + 1) % 3]].insert(v[i]);
        }
    const auto loops = surface::boundary_loops(mesh);
    ASSERT_EQ(loops.size(), 1u);
    const std::set<std::int32_t> rim(loops[0].begin(), loops[0].end());
    for (const auto& [v, others] : round) {
        if (rim.contains(v)) {
            // On a circle of the area asked for.
            EXPECT_NEAR(at->col(v).squaredNorm() * std::numbers::pi, area, 1e-6);
            continue;
        }
        Vec2 middle = Vec2::Zero();
        for (const std::int32_t w : others)
            middle += at->col(w) / static_cast<double>(others.size());
        EXPECT_LT((at->col(v) - middle).norm(), 1e-9) << v;
    }
}

TEST(CircleStart, TurnsNothingOverHoweverTheSurfaceIsBent) {
    // Tutte's theorem. Nine tenths of a sphere, which every plane sees folded, and openings in it,
    // each spanned by a vertex of its own that is not in the answer.
    const double R = 50.0;
    const auto figure = test::with_hole(
        test::with_hole(test::disc(0.8 * std::numbers::pi * R, 16), {50, 10}, 14), {-45, -45}, 18);
    const auto mesh = test::on_sphere(figure, R);
    EXPECT_GT(turned_over(mesh, *plane_start(mesh)), 0);
    const auto at = circle_start(mesh, 20000.0);
    ASSERT_TRUE(at);
    EXPECT_EQ(at->cols(), static_cast<Eigen::Index>(mesh.position.size()));
    EXPECT_EQ(turned_over(mesh, *at), 0);
}

TEST(CircleStart, IsNoneForAClosedSurface) {
    surface::SurfaceMesh mesh;
    mesh.triangle = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}};
    EXPECT_FALSE(circle_start(mesh, 100.0));
}

}  // namespace
}  // namespace tearline::flattening

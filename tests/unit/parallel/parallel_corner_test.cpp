// Where creases meet: the corner of a three-sided or six-sided pyramid.
#include <gtest/gtest.h>

#include <numbers>

#include "core/surface/mesh_parts.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/mesh_checks.h"
#include "tests/unit/parallel/at_depth.h"

namespace tearline::surface {
namespace {

/// Planes through the origin, each falling by `tilt` [rad] from the level, over equal sectors, with
/// a crease at 90 degrees: as many creases, convex for tilt > 0.
class Pyramid final : public SurfaceBehind {
public:
    Pyramid(std::vector<Vec2> chart, int sides, double tilt)
        : chart_(std::move(chart)), sides_(sides), tilt_(tilt) {}

    [[nodiscard]] int sector(const std::array<std::int32_t, 3>& v) const {
        const Vec2 p = chart_[v[0]] + chart_[v[1]] + chart_[v[2]];
        int best = 0;
        for (int s = 1; s < sides_; ++s)
            if (p.dot(way(s)) > p.dot(way(best))) best = s;
        return best;
    }
    [[nodiscard]] SurfaceSample on(int s, const Vec2& p) const {
        const Vec2 w = way(s);
        const Vec3 n(std::sin(tilt_) * w.x(), std::sin(tilt_) * w.y(), std::cos(tilt_));
        return {{p.x(), p.y(), -std::tan(tilt_) * w.dot(p)}, n, 0.0, 0.0};
    }
    [[nodiscard]] SurfaceSample at(const SurfaceMesh& mesh, const Location& at) const override {
        const auto& v = mesh.triangle[at.triangle.index()];
        return on(sector(v), at.weights[0] * chart_[v[0]] + at.weights[1] * chart_[v[1]] +
                                 at.weights[2] * chart_[v[2]]);
    }

private:
    [[nodiscard]] Vec2 way(int s) const {
        const double a = (0.5 + (2.0 * s - 1.0) / sides_) * std::numbers::pi;
        return {std::cos(a), std::sin(a)};
    }
    std::vector<Vec2> chart_;
    int sides_;
    double tilt_;
};

Patch pyramid(int sides, double tilt, double edge) {
    Patch patch = test::analytic_patch(test::plane_map, test::within_disc(60), 80, edge);
    const auto behind = std::make_shared<Pyramid>(patch.chart, sides, tilt);
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
        const auto& v = patch.mesh.triangle[t];
        for (int k = 0; k < 3; ++k) {
            const auto s = behind->on(behind->sector(v), patch.chart[v[k]]);
            patch.mesh.position[v[k]] = s.position;
            patch.mesh.corner_normal[t][k] = s.normal;
            const std::int32_t n = patch.neighbour[t][k];
            patch.crease[t][k] =
                n >= 0 && behind->sector(patch.mesh.triangle[n]) != behind->sector(v);
        }
    }
    patch.mesh.edge_length.clear();
    patch.behind = behind;
    finish_patch(patch);
    return patch;
}

/// Area within the outline of a mesh, seen from above.
double area_from_above(const SurfaceMesh& mesh) {
    double twice = 0.0;
    for (const auto& loop : boundary_loops(mesh))
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec3& a = mesh.position[loop[i]];
            const Vec3& b = mesh.position[loop[(i + 1) % loop.size()]];
            twice += a.x() * b.y() - b.x() * a.y();
        }
    return 0.5 * twice;
}

TEST(ParallelCorner, MeetsWhereTheOffsetPlanesMeet) {
    // The planes moved in by d meet d / cos(tilt) below the corner, no point of the pyramid is
    // nearer to any point at depth (nearest-point search on its exact facets), and as every facet
    // at depth leans by the tilt, their area is that seen from above over cos(tilt) unless some
    // overlap or are missing. On the finest meshes the strips are several triangles wide.
    for (const int sides : {3, 6})
        for (const double tilt : {0.15, 0.3, 0.6, 0.9})
            for (const double edge : {1.5, 3.0, 8.0, 15.0}) {
                SCOPED_TRACE(testing::Message()
                             << sides << " sides, tilt " << tilt << ", edges " << edge);
                const Patch patch = pyramid(sides, tilt, edge);
                const auto s = parallel::at_depth(patch, parallel::constant(6.0));
                ASSERT_TRUE(s) << s.error().message();
                test::expect_manifold(s->mesh);
                EXPECT_EQ(count_parts(s->mesh), 1u);
                double top = -100.0;
                for (const Vec3& q : s->mesh.position) {
                    top = std::max(top, q.z());
                    EXPECT_GT(patch.nearest(q).distance, 6.0 - 1e-9);
                }
                const double area = test::facet_area(s->mesh);
                EXPECT_NEAR(top, -6.0 / std::cos(tilt), 1e-9);
                EXPECT_NEAR(area * std::cos(tilt), area_from_above(s->mesh), 1e-6 * area);
            }
}

TEST(ParallelCorner, OpensThreeCreasesToOnePoint) {
    for (const double edge : {3.0, 8.0, 15.0}) {
        const Patch patch = pyramid(3, -0.3, edge);
        const auto s = parallel::at_depth(patch, parallel::constant(6.0));
        ASSERT_TRUE(s) << s.error().message();
        test::expect_manifold(s->mesh);
        EXPECT_EQ(count_parts(s->mesh), 1u);
        for (const Vec3& q : s->mesh.position) EXPECT_GT(patch.nearest(q).distance, 6.0 - 1e-9);
    }
}

}  // namespace
}  // namespace tearline::surface

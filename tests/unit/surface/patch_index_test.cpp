#include "core/surface/patch_index.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "tests/support/analytic_patch.h"

namespace tearline::surface {
namespace {

double between(std::mt19937& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}
Vec3 point_in_box(std::mt19937& random, double half) {
    return {between(random, -half, half), between(random, -half, half),
            between(random, -half, half)};
}

/// Distance from a triangle by another route: the foot in its plane where that lies inside, else
/// the least of the distances from its three sides.
double distance_from_triangle(const std::array<Vec3, 3>& corner, const Vec3& p) {
    const Vec3 normal = (corner[1] - corner[0]).cross(corner[2] - corner[0]);
    bool inside = true;
    double least = 1e300;
    for (int i = 0; i < 3; ++i) {
        const Vec3 &a = corner[i], u = corner[(i + 1) % 3] - a;
        inside = inside && u.cross(p - a).dot(normal) >= 0.0;
        const double s = std::clamp((p - a).dot(u) / u.squaredNorm(), 0.0, 1.0);
        least = std::min(least, (p - a - s * u).norm());
    }
    return inside ? std::abs((p - corner[0]).dot(normal)) / normal.norm() : least;
}

TEST(NearestWeights, LieAtTheDistanceOfPlaneSidesAndCorners) {
    std::mt19937 random(31);  // fixed start value
    for (int k = 0; k < 3000; ++k) {
        std::array<Vec3, 3> corner;
        for (Vec3& c : corner) c = point_in_box(random, 10.0);
        const Vec3 p = point_in_box(random, 25.0);
        const Vec3 w = nearest_weights(corner, p);
        EXPECT_NEAR(w.sum(), 1.0, 1e-12);
        EXPECT_GE(w.minCoeff(), 0.0);
        const Vec3 q = w[0] * corner[0] + w[1] * corner[1] + w[2] * corner[2];
        EXPECT_NEAR((p - q).norm(), distance_from_triangle(corner, p), 1e-9) << k;
    }
}

TEST(NearestWeights, NameTheRegionRoundTheTriangle) {
    // By hand, one point for each of the seven regions round a right triangle of side 4.
    const std::array<Vec3, 3> corner{Vec3(0, 0, 0), Vec3(4, 0, 0), Vec3(0, 4, 0)};
    const struct {
        Vec3 point, weights;
    } table[] = {{{-1, -1, 2}, {1, 0, 0}},      {{7, -1, 0}, {0, 1, 0}},
                 {{-1, 9, -3}, {0, 0, 1}},      {{1, -2, 1}, {0.75, 0.25, 0}},
                 {{-5, 3, 0}, {0.25, 0, 0.75}}, {{4, 4, 0}, {0, 0.5, 0.5}},
                 {{1, 2, 9}, {0.25, 0.25, 0.5}}};
    for (const auto& row : table)
        EXPECT_LT((nearest_weights(corner, row.point) - row.weights).norm(), 1e-12)
            << row.point.transpose();
}

TEST(BoxTree, HoldsEveryTriangleInOneLeafAndInsideItsBoxes) {
    const Patch patch = test::analytic_patch(test::sphere_map(90), test::within_disc(120), 120, 8);
    const BoxTree tree = build_box_tree(patch.mesh.position, patch.mesh.triangle);
    std::vector<int> seen(patch.mesh.triangle.size(), 0);
    for (const BoxTree::Node& node : tree.node)
        for (std::int32_t i = node.first; i < node.first + node.count; ++i) {
            ++seen[tree.triangle[i]];
            for (const std::int32_t v : patch.mesh.triangle[tree.triangle[i]]) {
                const Vec3& p = patch.mesh.position[v];
                EXPECT_TRUE((p.array() >= node.low.array()).all());
                EXPECT_TRUE((p.array() <= node.high.array()).all());
                // The root's box holds all.
                EXPECT_TRUE((p.array() >= tree.node[0].low.array()).all());
            }
        }
    for (const int count : seen) EXPECT_EQ(count, 1);
}

TEST(NearestTriangle, IsThatOfAnExhaustiveSearch) {
    // Triangles strewn at random, some long and some tiny, and a regular mesh far from the origin.
    std::mt19937 random(77);
    std::vector<Vec3> position;
    std::vector<std::array<std::int32_t, 3>> triangle;
    for (int t = 0; t < 300; ++t) {
        const Vec3 middle = point_in_box(random, 100.0);
        const double size = t % 10 == 0 ? 60.0 : 4.0;
        const auto first = static_cast<std::int32_t>(position.size());
        for (int i = 0; i < 3; ++i) position.push_back(middle + point_in_box(random, size));
        triangle.push_back({first, first + 1, first + 2});
    }
    const BoxTree tree = build_box_tree(position, triangle);
    for (int k = 0; k < 500; ++k) {
        const Vec3 p = point_in_box(random, 150.0);
        double least = 1e300;
        for (const auto& t : triangle)
            least = std::min(
                least, distance_from_triangle({position[t[0]], position[t[1]], position[t[2]]}, p));
        const NearestTriangle found = nearest_triangle(tree, position, triangle, p);
        ASSERT_TRUE(found.triangle.valid());
        EXPECT_NEAR(found.distance, least, 1e-9);
        const auto& t = triangle[found.triangle.index()];
        const Vec3 q = found.weights[0] * position[t[0]] + found.weights[1] * position[t[1]] +
                       found.weights[2] * position[t[2]];
        EXPECT_NEAR((q - p).norm(), least, 1e-9);
    }
}

TEST(NearestTriangle, OfNoTrianglesIsNone) {
    EXPECT_FALSE(nearest_triangle(build_box_tree({}, {}), {}, {}, {0, 0, 0}).triangle.valid());
}

TEST(ChartGrid, ListsEveryTriangleInAllCellsItsBoxTouches) {
    // Second route: every cell by every triangle, by their boxes.
    const Patch patch = test::analytic_patch(
        test::plane_map, [](const Vec2& p) { return p.norm() < 60 && p.norm() > 20; }, 60, 7);
    const ChartGrid grid = build_chart_grid(patch.mesh, patch.chart);
    ASSERT_EQ(grid.first.size(), static_cast<std::size_t>(grid.columns * grid.rows) + 1);
    std::size_t filled = 0;
    for (std::int32_t r = 0; r < grid.rows; ++r)
        for (std::int32_t c = 0; c < grid.columns; ++c) {
            const std::int32_t cell = r * grid.columns + c;
            const Vec2 low = grid.low + grid.cell * Vec2(c, r);
            for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
                const auto& v = patch.mesh.triangle[t];
                Vec2 a = patch.chart[v[0]], b = a;
                for (const std::int32_t k : v) a = a.cwiseMin(patch.chart[k]);
                for (const std::int32_t k : v) b = b.cwiseMax(patch.chart[k]);
                // A box that ends on the line between two cells may be in either.
                const bool clearly_in =
                    ((b - low).array() > 1e-6).all() &&
                    ((low + Vec2(grid.cell, grid.cell) - a).array() > 1e-6).all();
                const bool clearly_out =
                    ((b - low).array() < -1e-6).any() ||
                    ((low + Vec2(grid.cell, grid.cell) - a).array() < -1e-6).any();
                const auto begin = grid.triangle.begin() + grid.first[cell];
                const auto end = grid.triangle.begin() + grid.first[cell + 1];
                const bool listed = std::find(begin, end, TriangleId(t)) != end;
                if (clearly_in) {
                    EXPECT_TRUE(listed) << t << " in " << c << " " << r;
                }
                if (clearly_out) {
                    EXPECT_FALSE(listed) << t << " in " << c << " " << r;
                }
                filled += listed ? 1 : 0;
            }
        }
    EXPECT_EQ(filled, grid.triangle.size());
}

}  // namespace
}  // namespace tearline::surface

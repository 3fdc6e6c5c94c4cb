#include "core/plane/triangulate_region.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>
#include <set>

#include "tests/support/loops.h"

namespace tearline::plane {
namespace {

using std::numbers::pi;

/// Adds a closed curve as outline edges.
void add_loop(Skeleton& skeleton, const Loop2& loop, EdgeKind kind = EdgeKind::outline) {
    const auto first = static_cast<std::int32_t>(skeleton.points.size());
    const auto n = static_cast<std::int32_t>(loop.size());
    for (const Vec2& p : loop) skeleton.points.push_back(p);
    for (std::int32_t i = 0; i < n; ++i)
        skeleton.edges.push_back({first + i, first + (i + 1) % n, kind});
}

Skeleton outline_of(const Region2& region) {
    Skeleton skeleton;
    add_loop(skeleton, region.outer);
    for (const Loop2& hole : region.holes) add_loop(skeleton, hole);
    return skeleton;
}

Region2 square_with_hole() {
    return {{{0, 0}, {100, 0}, {100, 80}, {0, 80}}, {{{30, 30}, {30, 50}, {60, 50}, {60, 30}}}};
}

std::vector<Vec2> strewn(std::uint32_t seed, int count, const Vec2& high) {
    std::mt19937 random(seed);
    std::vector<Vec2> out;
    for (int i = 0; i < count; ++i)
        out.emplace_back(std::uniform_real_distribution<double>(0, high.x())(random),
                         std::uniform_real_distribution<double>(0, high.y())(random));
    return out;
}

double area_of(const PlaneMesh& mesh) {
    double sum = 0.0;
    for (const auto& t : mesh.triangle)
        sum += 0.5 *
               cross2(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]);
    return sum;
}

void expect_linked(const PlaneMesh& mesh) {
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = mesh.neighbour[t][i];
            const std::int32_t a = mesh.triangle[t][i], b = mesh.triangle[t][(i + 1) % 3];
            if (n < 0) {
                EXPECT_EQ(mesh.kind[t][i], EdgeKind::outline) << "the region ends at its outline";
                continue;
            }
            int k = 0;
            while (k < 3 && !(mesh.triangle[n][k] == b && mesh.triangle[n][(k + 1) % 3] == a)) ++k;
            ASSERT_LT(k, 3) << t << " and " << n << " share no edge";
            EXPECT_EQ(mesh.neighbour[n][k], static_cast<std::int32_t>(t));
            EXPECT_EQ(mesh.kind[n][k], mesh.kind[t][i]);
        }
}

TEST(TriangulateRegion, CoversTheRegionOnceAndLeavesHolesOpen) {
    // The area by the shoelace formula; all triangles counter-clockwise, so none counts twice.
    const Region2 region = square_with_hole();
    const auto mesh = triangulate_region(outline_of(region), strewn(12, 60, {100, 80}), region);
    EXPECT_NEAR(area_of(mesh), 100.0 * 80 - 30 * 20, 1e-9);
    for (const auto& t : mesh.triangle)
        EXPECT_GT(
            cross2(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]),
            0.0);
    expect_linked(mesh);
    EXPECT_EQ(mesh.fixed, 8u);
    for (std::size_t v = 0; v < 8; ++v)
        EXPECT_TRUE(test::distance_to(region.outer, mesh.points[v]) < 1e-12 ||
                    test::distance_to(region.holes[0], mesh.points[v]) < 1e-12);
}

TEST(TriangulateRegion, LeavesOutFreePointsThatLieOutside) {
    const Region2 region = square_with_hole();
    const auto free = strewn(5, 80, {140, 80});  // some right of the square, some in the hole
    const auto inside =
        std::count_if(free.begin(), free.end(), [&](const Vec2& p) { return contains(region, p); });
    const auto mesh = triangulate_region(outline_of(region), free, region);
    EXPECT_EQ(mesh.points.size(), 8u + static_cast<std::size_t>(inside));
    // Euler for a disc with one hole: triangles = 2 inner + rim vertices.
    EXPECT_EQ(mesh.triangle.size(), 2u * static_cast<std::size_t>(inside) + 8u);
    std::set<std::int32_t> used;
    for (const auto& t : mesh.triangle) used.insert(t.begin(), t.end());
    EXPECT_EQ(used.size(), mesh.points.size()) << "no point stands alone";
}

TEST(TriangulateRegion, IsDelaunayButForItsKeptEdges) {
    // Second route: no corner across a free edge lies inside the circle of a triangle.
    const Region2 region = square_with_hole();
    const auto mesh = triangulate_region(outline_of(region), strewn(99, 120, {100, 80}), region);
    int looked_at = 0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = mesh.neighbour[t][i];
            if (n < 0 || mesh.kind[t][i] != EdgeKind::free) continue;
            std::int32_t d = -1;
            for (const std::int32_t v : mesh.triangle[n])
                if (std::find(mesh.triangle[t].begin(), mesh.triangle[t].end(), v) ==
                    mesh.triangle[t].end())
                    d = v;
            ASSERT_GE(d, 0);
            Eigen::Matrix3d m;
            for (int r = 0; r < 3; ++r) {
                const Vec2 p = mesh.points[mesh.triangle[t][r]] - mesh.points[d];
                m.row(r) << p.x(), p.y(), p.squaredNorm();
            }
            EXPECT_LE(m.determinant(), 1e-4) << t << " " << i;
            ++looked_at;
        }
    EXPECT_GT(looked_at, 300);
}

TEST(TriangulateRegion, KeepsCreasesAndKinksAsEdgesOfTheirKind) {
    // A crease across the square and a kink that crosses it: lengths by kind come back whole, and
    // the crossing is a point of its own among the fixed ones.
    const Region2 region{{{0, 0}, {100, 0}, {100, 80}, {0, 80}}, {}};
    Skeleton skeleton = outline_of(region);
    const auto n = static_cast<std::int32_t>(skeleton.points.size());
    for (const Vec2& p : {Vec2(10, 40), Vec2(90, 40), Vec2(50, 10), Vec2(50, 70)})
        skeleton.points.push_back(p);
    skeleton.edges.push_back({n, n + 1, EdgeKind::crease});
    skeleton.edges.push_back({n + 2, n + 3, EdgeKind::kink});
    const auto mesh = triangulate_region(skeleton, strewn(3, 50, {100, 80}), region);
    expect_linked(mesh);
    EXPECT_EQ(mesh.fixed, 9u);
    EXPECT_LT((mesh.points[8] - Vec2(50, 40)).norm(), 1e-9);
    std::map<EdgeKind, double> length;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const Vec2 along =
                mesh.points[mesh.triangle[t][(i + 1) % 3]] - mesh.points[mesh.triangle[t][i]];
            const double sides = mesh.neighbour[t][i] < 0 ? 1.0 : 2.0;
            length[mesh.kind[t][i]] += along.norm() / sides;
            if (mesh.kind[t][i] == EdgeKind::crease) {
                EXPECT_NEAR(along.y(), 0.0, 1e-9);
            }
            if (mesh.kind[t][i] == EdgeKind::kink) {
                EXPECT_NEAR(along.x(), 0.0, 1e-9);
            }
        }
    EXPECT_NEAR(length[EdgeKind::crease], 80.0, 1e-9);
    EXPECT_NEAR(length[EdgeKind::kink], 60.0, 1e-9);
    EXPECT_NEAR(length[EdgeKind::outline], 360.0, 1e-9);
}

TEST(TriangulateRegion, TakesAPartInOrOutWhole) {
    // A region of two parts' outlines: a disc and, apart from it, a loop that is none of its own.
    Loop2 round;
    for (int i = 0; i < 40; ++i)
        round.emplace_back(20 * std::cos(2 * pi * i / 40), 20 * std::sin(2 * pi * i / 40));
    const Region2 region{round, {}};
    Skeleton skeleton = outline_of(region);
    add_loop(skeleton, {{100, 0}, {120, 0}, {110, 20}});
    const auto mesh = triangulate_region(skeleton, {{0, 0}, {110, 5}}, region);
    EXPECT_NEAR(area_of(mesh), signed_area(round), 1e-9);
    EXPECT_EQ(mesh.points.size(), 41u);
    EXPECT_EQ(mesh.fixed, 40u) << "the other loop's points are gone";
}

TEST(TriangulateRegion, TakesPointsThatStandTwice) {
    // Two skeleton points at one place are one vertex of the mesh.
    const Region2 region{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {}};
    Skeleton skeleton;
    skeleton.points = {{0, 0}, {10, 0}, {10, 0}, {10, 10}, {0, 10}};
    for (std::int32_t i = 0; i < 5; ++i)
        skeleton.edges.push_back({i, (i + 1) % 5, EdgeKind::outline});
    const auto mesh = triangulate_region(skeleton, {{4, 5}}, region);
    EXPECT_NEAR(area_of(mesh), 100.0, 1e-12);
    EXPECT_EQ(mesh.points.size(), 5u);
    EXPECT_EQ(mesh.triangle.size(), 4u);
}

}  // namespace
}  // namespace tearline::plane

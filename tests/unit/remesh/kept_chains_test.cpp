#include "core/remesh/kept_chains.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "tests/support/remesh_meshes.h"

namespace tearline::remesh {
namespace {

using Marks = PerId<TriangleId, std::array<bool, 3>>;

/// Marks the edges whose two ends both fulfil a condition.
Marks marked(const RemeshMesh& mesh, const std::function<bool(const Vec3&)>& on) {
    Marks out(mesh.triangle.size());
    for (const TriangleId t : out.ids())
        for (int i = 0; i < 3; ++i) out[t][i] = on(mesh.point(t, i)) && on(mesh.point(t, i + 1));
    return out;
}

std::set<std::int32_t> chains_of(const RemeshMesh& mesh) {
    std::set<std::int32_t> out;
    for (const auto& t : mesh.triangle)
        for (const KeptEdge& k : t.kept)
            if (k.kept()) out.insert(k.edge);
    return out;
}

TEST(KeptChains, PassThroughTheirVerticesByWholeParameters) {
    // Every kept edge names its chain and the numbers of its two ends there; on both sides of an
    // inner edge the same, run the other way.
    RemeshMesh mesh = test::remesh_mesh(test::disc(40, 4));
    const Marks marks = marked(mesh, [](const Vec3& p) { return std::abs(p.norm() - 30) < 1e-9; });
    const KeptChains chains(mesh, marks);
    EXPECT_EQ(chains_of(mesh), (std::set<std::int32_t>{0}));
    int kept = 0;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i) {
            const KeptEdge& k = mesh.triangle[t].kept[i];
            EXPECT_EQ(k.kept(), marks[t][i]);
            if (!k.kept()) continue;
            ++kept;
            EXPECT_EQ(std::abs(k.to - k.from), 1.0);
            EXPECT_LT((chains.at(k.edge, k.from) - mesh.point(t, i)).norm(), 1e-12);
            EXPECT_LT((chains.at(k.edge, k.to) - mesh.point(t, i + 1)).norm(), 1e-12);
        }
    EXPECT_EQ(kept, 2 * 18);  // ring 3 has 18 edges, each with two sides
    test::expect_sound(mesh);
}

TEST(KeptChains, BulgeBetweenPointsOfACircleByTheParabolasSlopes) {
    // Derived: with steps of t the parabola through three points has the slope cos(t/2) along the
    // tangent in the middle one, so that the curve's middle lies at R cos(t/2) (1 + sin^2(t/2)/2)
    // from the centre; the circle's own would be R, the chord's R cos(t/2).
    const double R = 30.0, t = 2.0 * std::numbers::pi / 18.0;
    RemeshMesh mesh = test::remesh_mesh(test::disc(40, 4));
    const KeptChains chains(
        mesh, marked(mesh, [&](const Vec3& p) { return std::abs(p.norm() - R) < 1e-9; }));
    const double s = std::sin(t / 2);
    for (int i = 0; i < 18; ++i)  // the closed chain's seam too
        EXPECT_NEAR(chains.at(0, i + 0.5).norm(), R * std::cos(t / 2) * (1 + s * s / 2), 1e-9) << i;
}

TEST(KeptChains, OnAStraightLineRunEvenly) {
    // Any cubic through equal slopes is the line itself, whatever the steps.
    auto figure = test::rectangle_mesh(60, 20, 6, 2);
    for (Vec2& p : figure.place) p.x() *= 1.0 + 0.01 * p.x();  // uneven steps
    RemeshMesh mesh = test::remesh_mesh(figure);
    const KeptChains chains(mesh, marked(mesh, [](const Vec3& p) { return p.y() == 10.0; }));
    const auto x = [](int i) { return 10.0 * i * (1.0 + 0.1 * i); };
    const bool up = chains.at(0, 0.0).x() < 1.0;
    for (int i = 0; i < 6; ++i)
        for (const double part : {0.0, 0.25, 0.5, 0.9}) {
            const double at = x(i) + part * (x(i + 1) - x(i));
            const Vec3 p = chains.at(0, up ? i + part : 6.0 - i - part);
            EXPECT_NEAR(p.x(), at, 1e-9);
            EXPECT_NEAR(p.y(), 10.0, 1e-12);
        }
}

TEST(KeptChains, OfOneEdgeIsItsChord) {
    RemeshMesh mesh = test::remesh_mesh({{{0, 0}, {30, 0}, {0, 40}}, {{0, 1, 2}}});
    const KeptChains chains(mesh, Marks(1, {false, true, false}));
    EXPECT_LT((chains.at(0, 0.5) - Vec3(15, 20, 0)).norm(), 1e-12);
    EXPECT_LT((chains.slope_at(0, 0.0, true) - (chains.at(0, 1.0) - chains.at(0, 0.0))).norm(),
              1e-12);
}

TEST(KeptChains, EndAtSharpBends) {
    // A rectangle's rim turns by 90 degrees four times: four chains, of 6, 3, 6 and 3 edges.
    RemeshMesh mesh = test::remesh_mesh(test::rectangle_mesh(60, 30, 6, 3));
    Marks marks(mesh.triangle.size());
    for (const TriangleId t : marks.ids())
        for (int i = 0; i < 3; ++i) marks[t][i] = !mesh.triangle[t].neighbour[i].valid();
    const KeptChains chains(mesh, marks);
    std::map<std::int32_t, int> edges;
    for (const auto& t : mesh.triangle)
        for (const KeptEdge& k : t.kept)
            if (k.kept()) ++edges[k.edge];
    ASSERT_EQ(edges.size(), 4u);
    std::multiset<int> counts;
    for (const auto& [chain, count] : edges) counts.insert(count);
    EXPECT_EQ(counts, (std::multiset<int>{3, 3, 6, 6}));
}

TEST(KeptChains, EndWhereThreeMeet) {
    // The middle line of a strip and one line up from its middle: three chains from one vertex.
    RemeshMesh mesh = test::remesh_mesh(test::rectangle_mesh(40, 40, 4, 4));
    const Marks marks = marked(
        mesh, [](const Vec3& p) { return p.y() == 20.0 || (p.x() == 20.0 && p.y() >= 20.0); });
    const KeptChains chains(mesh, marks);
    EXPECT_EQ(chains_of(mesh).size(), 3u);
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i)
            if (t.kept[i].kept()) {
                // Two edges each, with ends at parameters 0 and 2.
                EXPECT_LE(std::max(t.kept[i].from, t.kept[i].to), 2.0);
                const bool at_junction =
                    (mesh.vertex[t.vertex[i]].position - Vec3(20, 20, 0)).norm() < 1e-9;
                if (at_junction) {
                    EXPECT_TRUE(t.kept[i].from == 0.0 || t.kept[i].from == 2.0);
                }
            }
}

TEST(KeptChains, SlopesAreDerivativesByTheParameter) {
    // Second route: a difference quotient of the curve itself, from either side of a vertex.
    RemeshMesh mesh = test::remesh_mesh(test::disc(40, 4), [](const Vec2& p) {
        return Vec3(p.x() * (1 + 0.01 * p.y()), p.y(), 0.01 * p.x() * p.x());
    });
    // Ring 3 of the disc: vertices 19 to 36.
    Marks marks(mesh.triangle.size());
    for (const TriangleId t : marks.ids())
        for (int i = 0; i < 3; ++i) {
            const auto on = [&](int c) {
                const VertexId v = mesh.triangle[t].vertex[c % 3];
                return v.value >= 19 && v.value <= 36;
            };
            marks[t][i] = on(i) && on(i + 1);
        }
    const KeptChains chains(mesh, marks);
    const double h = 1e-6;
    for (int i = 1; i < 18; ++i) {
        const Vec3 after = (chains.at(0, i + h) - chains.at(0, i)) / h;
        const Vec3 before = (chains.at(0, i) - chains.at(0, i - h)) / h;
        EXPECT_LT((chains.slope_at(0, i, true) - after).norm(), 1e-3);
        EXPECT_LT((chains.slope_at(0, i, false) - before).norm(), 1e-3);
        // One direction on both sides: the curve has no corner.
        EXPECT_LT(after.normalized().cross(before.normalized()).norm(), 1e-4);
    }
}

}  // namespace
}  // namespace tearline::remesh

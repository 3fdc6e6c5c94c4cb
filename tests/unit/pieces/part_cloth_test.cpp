#include "core/pieces/part_cloth.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "core/surface/mesh_parts.h"
#include "tests/support/analytic_meshes.h"
#include "tests/support/lay_surface_of.h"
#include "tests/support/mesh_checks.h"
#include "tests/support/remesh_meshes.h"

namespace tearline::pieces {
namespace {

using Marks = std::vector<std::array<bool, 3>>;

/// A flat rectangle of 10 mm squares cut in halves, as the lay surface of a ply.
plies::LaySurface rectangle(int across, int along) {
    const auto figure = test::rectangle_mesh(10.0 * across, 10.0 * along, across, along);
    return test::lay_surface_of(test::on_cylinder(figure, 1e6), figure.place);
}

int count(const Marks& marks) {
    int sum = 0;
    for (const auto& t : marks) sum += static_cast<int>(std::count(t.begin(), t.end(), true));
    return sum;
}

/// Length of the marked edges in the chart, each of which is marked from both sides.
double length(const plies::LaySurface& lay, const Marks& marks) {
    double sum = 0.0;
    for (std::size_t t = 0; t < marks.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (marks[t][i])
                sum += 0.5 * (lay.chart[lay.mesh.triangle[t][(i + 1) % 3]] -
                              lay.chart[lay.mesh.triangle[t][i]])
                                 .norm();
    return sum;
}

TEST(EdgesOn, AreThoseThatLieOnTheLineAndNoOthers) {
    // By hand: the mesh line y = 20 from x = 10 to 40 is three edges, each with two sides. Both
    // ends of a diagonal may lie on a bent line while its middle does not.
    const auto lay = rectangle(6, 4);
    const std::vector<Vec2> straight{{10, 20}, {40, 20}};
    const Marks marks = edges_on(lay, straight);
    EXPECT_EQ(count(marks), 2 * 3);
    EXPECT_NEAR(length(lay, marks), 30.0, 1e-9);
    const std::vector<Vec2> corner{{20, 20}, {30, 20}, {30, 30}};
    EXPECT_NEAR(length(lay, edges_on(lay, corner)), 20.0, 1e-9);
    const std::vector<Vec2> beside{{10, 20.02}, {40, 20.02}};
    EXPECT_EQ(count(edges_on(lay, beside)), 0);
    // The rim is no edge to part.
    const std::vector<Vec2> rim{{0, 0}, {60, 0}};
    EXPECT_EQ(count(edges_on(lay, rim)), 0);
}

TEST(PartAlong, OpensACutFromTheRimToItsTip) {
    // Five vertices lie on the way from the rim at x = 60 to x = 20; all but the tip become two.
    const auto lay = rectangle(6, 4);
    const std::vector<Vec2> line{{60, 20}, {20, 20}};
    const PartedSurface parted = part_along(lay, edges_on(lay, line));
    EXPECT_EQ(parted.lay.mesh.position.size(), lay.mesh.position.size() + 4);
    EXPECT_EQ(parted.lay.mesh.triangle.size(), lay.mesh.triangle.size());
    EXPECT_EQ(surface::count_parts(parted.lay.mesh), 1u);
    EXPECT_EQ(parted.lay.area, lay.area);
    test::expect_manifold(parted.lay.mesh);
    std::map<std::int32_t, int> copies;
    ASSERT_EQ(parted.from.size(), parted.lay.mesh.position.size());
    for (std::size_t v = 0; v < parted.from.size(); ++v) {
        ++copies[parted.from[v]];
        EXPECT_EQ(parted.lay.chart[v], lay.chart[parted.from[v]]);
        EXPECT_EQ(parted.lay.base[v], lay.base[parted.from[v]]);
        EXPECT_EQ(parted.lay.mesh.position[v], lay.mesh.position[parted.from[v]]);
    }
    for (const auto& [v, many] : copies) {
        const Vec2& p = lay.chart[v];
        EXPECT_EQ(many, p.y() == 20.0 && p.x() > 25.0 ? 2 : 1) << p.transpose();
    }
    // Its rim is longer by both sides of the cut.
    const auto loops = surface::boundary_loops(parted.lay.mesh);
    ASSERT_EQ(loops.size(), 1u);
    EXPECT_EQ(loops[0].size(), 2u * (6 + 4) + 2 * 4);
}

TEST(PartAlong, NothingMarkedIsTheSurfaceItself) {
    const auto lay = rectangle(3, 3);
    const PartedSurface same =
        part_along(lay, Marks(lay.mesh.triangle.size(), {false, false, false}));
    EXPECT_EQ(same.lay.mesh.position.size(), lay.mesh.position.size());
    EXPECT_EQ(surface::boundary_loops(same.lay.mesh)[0].size(), 12u);
}

TEST(EdgesNear, FollowAStrokeThatTheMeshHasNoEdgesAlong) {
    // On near-equilateral triangles of 5 mm a way along edges strays no farther than an edge from
    // the stroke and is at most 2 / sqrt(3) as long; it runs from the rim to the tip's nearest
    // vertex.
    const auto figure = test::disc(100.0, 20);
    const auto lay = test::lay_surface_of(test::on_cylinder(figure, 1e6), figure.place);
    for (const double turn : {0.1, 0.37, 1.0, 2.2, 4.4}) {
        const Vec2 way(std::cos(turn), std::sin(turn));
        const Vec2 mouth = 105.0 * way, tip = 40.0 * way;
        const Marks marks = edges_near(lay, mouth, tip);
        std::map<std::int32_t, int> ends;
        for (std::size_t t = 0; t < marks.size(); ++t)
            for (int i = 0; i < 3; ++i)
                if (marks[t][i]) {
                    ++ends[lay.mesh.triangle[t][i]];
                    ++ends[lay.mesh.triangle[t][(i + 1) % 3]];
                }
        int mouths = 0, tips = 0;
        for (const auto& [v, many] : ends) {
            const Vec2& p = lay.chart[v];
            EXPECT_LT(std::abs(cross2(way, p)), 5.5) << turn;
            EXPECT_GT(p.dot(way), 34.0);
            if (many == 2) (p.norm() > 99.0 ? mouths : tips) += 1;
            EXPECT_TRUE(many == 2 || many == 4) << "one way, without branches";
        }
        EXPECT_EQ(mouths, 1);
        EXPECT_EQ(tips, 1);
        EXPECT_GT(length(lay, marks), 55.0);
        EXPECT_LT(length(lay, marks), 65.0 * 2.0 / std::sqrt(3.0));
    }
}

TEST(PartsOf, TakesGroupsApartAndWhatDoesNotHangTogether) {
    // Columns of a rectangle in groups 0, 1, 0: three parts, the outer two of one group; areas add
    // up to the whole.
    const auto lay = rectangle(6, 3);
    std::vector<std::int32_t> group;
    for (const auto& v : lay.mesh.triangle) {
        const double x = (lay.chart[v[0]].x() + lay.chart[v[1]].x() + lay.chart[v[2]].x()) / 3.0;
        group.push_back(x > 20.0 && x < 40.0 ? 1 : 0);
    }
    const auto parts = parts_of(lay, group);
    ASSERT_EQ(parts.size(), 3u);
    std::multiset<std::int32_t> groups;
    double area = 0.0;
    for (const SurfacePart& part : parts) {
        groups.insert(part.group);
        EXPECT_NEAR(part.lay.area, 20.0 * 30.0, 1e-6);
        EXPECT_EQ(part.lay.mesh.position.size(), 3u * 4u);
        EXPECT_EQ(part.lay.mesh.triangle.size(), 12u);
        EXPECT_EQ(part.lay.chart.size(), part.lay.mesh.position.size());
        test::expect_manifold(part.lay.mesh);
        area += part.lay.area;
        double low = 1e9, high = -1e9;
        for (const Vec2& p : part.lay.chart) {
            low = std::min(low, p.x());
            high = std::max(high, p.x());
        }
        EXPECT_NEAR(high - low, 20.0, 1e-9);
        EXPECT_EQ(part.group, low == 20.0 ? 1 : 0);
    }
    EXPECT_EQ(groups, (std::multiset<std::int32_t>{0, 0, 1}));
    EXPECT_NEAR(area, lay.area, 1e-6);
}

TEST(PartsOf, OneGroupIsTheWholeWhereItHangsTogether) {
    const auto lay = rectangle(4, 2);
    const auto parts = parts_of(lay, std::vector<std::int32_t>(lay.mesh.triangle.size(), 5));
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_EQ(parts[0].group, 5);
    EXPECT_EQ(parts[0].lay.mesh.position.size(), lay.mesh.position.size());
}

}  // namespace
}  // namespace tearline::pieces

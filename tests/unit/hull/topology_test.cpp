#include "core/hull/topology.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>
#include <set>

#include "core/hull/drop_repeated.h"
#include "core/hull/orient.h"
#include "core/hull/split_pinches.h"
#include "core/hull/stitch.h"
#include "core/hull/weld.h"
#include "tests/support/mesh_files.h"

namespace tearline::hull {
namespace {

using test::append;
using test::grid;
using test::PlainMesh;

PlainMesh sheet(int across, int along, const Vec3& low = {0, 0, 0}) {
    return grid(across, along,
                [=](double u, double v) { return Vec3(low + Vec3(100 * u, 100 * v, 0)); });
}

std::set<std::int32_t> edge(std::int32_t a, std::int32_t b) {
    return {a, b};
}

TEST(FindNeighbours, AgreesWithComparingAllEdgesHoweverTrianglesAreTurned) {
    // Second route: triangles by their edges without direction. A third of them turned over.
    std::mt19937 random(1001);  // fixed start value
    PlainMesh mesh = sheet(6, 5);
    for (auto& t : mesh.triangles)
        if (random() % 3 == 0) std::swap(t[1], t[2]);
    std::shuffle(mesh.triangles.begin(), mesh.triangles.end(), random);
    std::map<std::set<std::int32_t>, std::vector<std::int32_t>> by_edge;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (int k = 0; k < 3; ++k)
            by_edge[edge(mesh.triangles[t][k], mesh.triangles[t][(k + 1) % 3])].push_back(
                static_cast<std::int32_t>(t));
    const Neighbours found = find_neighbours(mesh.triangles, mesh.points.size());
    EXPECT_TRUE(found.crowded.empty());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            const auto& both = by_edge[edge(mesh.triangles[t][k], mesh.triangles[t][(k + 1) % 3])];
            std::int32_t other = -1;
            for (const std::int32_t n : both)
                if (n != static_cast<std::int32_t>(t)) other = n;
            EXPECT_EQ(found.topology.across[t][k], other);
        }
}

TEST(FindNeighbours, NamesEdgesThatTooManyTrianglesShare) {
    // Three flaps on the edge from 2 to 5, four on that from 0 to 1.
    const Triangles flaps{{2, 5, 6},  {5, 2, 7},  {2, 5, 8}, {0, 1, 9},
                          {1, 0, 10}, {0, 1, 11}, {0, 1, 12}};
    const Neighbours found = find_neighbours(flaps, 13);
    ASSERT_EQ(found.crowded.size(), 2u);
    EXPECT_EQ(found.crowded[0].a, 0);
    EXPECT_EQ(found.crowded[0].b, 1);
    EXPECT_EQ(found.crowded[0].triangles, 4);
    EXPECT_EQ(found.crowded[1].a, 2);
    EXPECT_EQ(found.crowded[1].triangles, 3);
    for (const auto& t : found.topology.across)
        for (const std::int32_t n : t) EXPECT_EQ(n, -1);
}

TEST(TurnOver, KeepsWhatLiesAcrossEachEdge) {
    // The same three edges, named the other way round.
    std::array<std::int32_t, 3> corners{4, 7, 9}, across{10, 11, 12};
    std::map<std::set<std::int32_t>, std::int32_t> before, after;
    for (int k = 0; k < 3; ++k) before[edge(corners[k], corners[(k + 1) % 3])] = across[k];
    const auto old = corners;
    turn_over(corners, across);
    for (int k = 0; k < 3; ++k) after[edge(corners[k], corners[(k + 1) % 3])] = across[k];
    EXPECT_EQ(before, after);
    EXPECT_NE(corners, old);
    turn_over(corners, across);
    EXPECT_EQ(corners, old);
}

TEST(MakeConsistent, TurnsTheFewAndCountsComponents) {
    // Two sheets apart; five triangles of the first and all but five of the second are turned over.
    // The majority of each stays as it came.
    PlainMesh mesh = sheet(4, 4);
    const std::size_t one = mesh.triangles.size();
    append(mesh, sheet(4, 4, {500, 0, 0}));
    for (std::size_t t = 0; t < 2 * one; ++t)
        if (t < 5 || t >= one + 5) std::swap(mesh.triangles[t][1], mesh.triangles[t][2]);
    Topology topology = find_neighbours(mesh.triangles, mesh.points.size()).topology;
    const Consistency made = make_consistent(mesh.triangles, topology);
    EXPECT_EQ(topology.components, 2);
    EXPECT_FALSE(made.twisted);
    EXPECT_EQ(made.turned_count, 10u);
    EXPECT_EQ(std::count(made.turned.begin(), made.turned.end(), true), 10);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto& [a, b, c] = mesh.triangles[t];
        const double z =
            (mesh.points[b] - mesh.points[a]).cross(mesh.points[c] - mesh.points[a]).z();
        EXPECT_EQ(z > 0.0, t < one);
        EXPECT_EQ(topology.component[t], t < one ? 0 : 1);
        for (int k = 0; k < 3; ++k) {
            // Neighbours run their edge against each other, and the record still names it.
            const std::int32_t n = topology.across[t][k];
            if (n < 0) continue;
            const std::int32_t from = mesh.triangles[t][k], to = mesh.triangles[t][(k + 1) % 3];
            const auto& o = mesh.triangles[n];
            bool against = false;
            for (int j = 0; j < 3; ++j) against = against || (o[j] == to && o[(j + 1) % 3] == from);
            EXPECT_TRUE(against);
        }
    }
}

TEST(MakeConsistent, FindsTheTwistOfAMoebiusStrip) {
    // Five squares round, the last glued to the first upside down.
    Triangles strip;
    const auto at = [](int i, int j) {
        return i < 5 ? 2 * i + j : 1 - j;  // the end is the start turned over
    };
    for (int i = 0; i < 5; ++i) {
        strip.push_back({at(i, 0), at(i + 1, 0), at(i + 1, 1)});
        strip.push_back({at(i, 0), at(i + 1, 1), at(i, 1)});
    }
    Topology topology = find_neighbours(strip, 10).topology;
    EXPECT_TRUE(make_consistent(strip, topology).twisted);
}

TEST(BoundaryLoops, GoRoundEveryOpeningWithTheSurfaceOnTheLeft) {
    // A sheet without its middle square: by the shoelace formula the outer loop has +10000 mm2, the
    // opening less 1/9 of that.
    PlainMesh mesh = sheet(3, 3);
    std::erase_if(mesh.triangles, [&](const auto& t) {
        const Vec3 middle = (mesh.points[t[0]] + mesh.points[t[1]] + mesh.points[t[2]]) / 3.0;
        return std::abs(middle.x() - 50) < 17 && std::abs(middle.y() - 50) < 17;
    });
    const auto topology = find_neighbours(mesh.triangles, mesh.points.size()).topology;
    const auto loops = boundary_loops(mesh.triangles, topology);
    ASSERT_EQ(loops.size(), 2u);
    std::multiset<int> areas;
    for (const auto& loop : loops) {
        double twice = 0.0;
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec3 &a = mesh.points[loop[i]], &b = mesh.points[loop[(i + 1) % loop.size()]];
            twice += a.x() * b.y() - a.y() * b.x();
        }
        areas.insert(static_cast<int>(std::lround(0.5 * twice)));
        EXPECT_NEAR(loop_length(mesh.points, loop), twice > 0 ? 400.0 : 400.0 / 3, 1e-9);
    }
    EXPECT_EQ(areas, (std::multiset<int>{-1111, 10000}));
}

TEST(DropRepeated, KeepsOneOfEachWhateverTheTurn) {
    // A sheet with three of its triangles once more, from other corners; none is folded.
    PlainMesh mesh = sheet(2, 2);
    const auto clean = mesh.triangles;
    const auto turn = [&](std::size_t t) {
        const auto& v = clean[t];
        mesh.triangles.push_back({v[1], v[2], v[0]});
    };
    turn(1);
    turn(4);
    turn(4);
    const RepeatCounts counts = drop_repeated(mesh.triangles, mesh.points.size());
    EXPECT_EQ(counts.repeated, 3u);
    EXPECT_EQ(counts.folded, 0u);
    EXPECT_EQ(mesh.triangles, clean);
}

TEST(DropRepeated, TakesBothSidesOfAFoldThatHangsOnAnEdge) {
    // Two triangles back to back on an edge that two others share already: a fin without thickness.
    PlainMesh mesh = sheet(1, 1);
    mesh.points.emplace_back(50, 50, 40);
    const auto clean = mesh.triangles;
    mesh.triangles.push_back({0, 3, 4});  // on the diagonal
    mesh.triangles.push_back({3, 0, 4});
    const RepeatCounts counts = drop_repeated(mesh.triangles, mesh.points.size());
    EXPECT_EQ(counts.repeated, 0u);
    EXPECT_EQ(counts.folded, 2u);
    EXPECT_EQ(mesh.triangles, clean);
    // Back to back along the rim alone it joins nothing too many, and one side stays.
    mesh.triangles.push_back({1, 0, 4});
    mesh.triangles.push_back({0, 1, 4});
    const RepeatCounts thin = drop_repeated(mesh.triangles, mesh.points.size());
    EXPECT_EQ(thin.repeated, 1u);
    EXPECT_EQ(thin.folded, 0u);
    EXPECT_EQ(mesh.triangles.size(), clean.size() + 1);
}

TEST(Weld, AgreesWithComparingAllPoints) {
    // Second route: each point with every one kept before, in order. Clusters narrower and wider
    // than the reach; where several are near, any that is near will do.
    std::mt19937 random(3003);
    std::uniform_real_distribution<double> wide(-5.0, 5.0), narrow(-0.8, 0.8);
    std::vector<Vec3> points;
    for (int k = 0; k < 120; ++k) {
        const Vec3 middle(wide(random), wide(random), wide(random));
        for (int i = 0; i < 6; ++i)
            points.push_back(middle + Vec3(narrow(random), narrow(random), narrow(random)));
    }
    const double reach = 0.5;
    const Welded found = weld(points, reach);
    std::vector<Vec3> kept;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const bool known = std::any_of(kept.begin(), kept.end(), [&](const Vec3& k) {
            return (k - points[i]).norm() <= reach;
        });
        if (!known) kept.push_back(points[i]);
        EXPECT_LE((found.kept[found.number[i]] - points[i]).norm(), reach);
    }
    EXPECT_EQ(found.kept.size(), kept.size());
    for (std::size_t k = 0; k < kept.size(); ++k) EXPECT_EQ(found.kept[k], kept[k]);
}

TEST(Stitch, JoinsRimsWithinTheGapAndNeverTheEndsOfOneEdge) {
    // Two sheets 0.3 mm apart: six vertices of the second become the first's.
    PlainMesh mesh = sheet(5, 5);
    append(mesh, sheet(5, 5, {100.3, 0, 0}));
    auto triangles = mesh.triangles;
    EXPECT_EQ(stitch(mesh.points, triangles, 0.2).joined, 0u);
    EXPECT_EQ(stitch(mesh.points, triangles, 0.5).joined, 6u);
    const auto topology = find_neighbours(triangles, mesh.points.size()).topology;
    EXPECT_EQ(boundary_loops(triangles, topology).size(), 1u);
    // A triangle smaller than the gap is left: joining its corners would leave a line.
    std::vector<Vec3> small{{0, 0, 0}, {0.1, 0, 0}, {0, 0.1, 0}};
    Triangles one{{0, 1, 2}};
    EXPECT_EQ(stitch(small, one, 0.5).joined, 0u);
    EXPECT_EQ(one, (Triangles{{0, 1, 2}}));
}

TEST(Stitch, SplitsAnEdgeAtEveryVertexThatLiesOnIt) {
    // One long edge against four short ones: three vertices on it, four triangles from one. By
    // hand, no area is lost.
    std::vector<Vec3> points{{0, 0, 0}, {100, 0, 0}, {50, 60, 0}};
    Triangles triangles{{0, 1, 2}};
    for (int i = 0; i <= 4; ++i) points.emplace_back(25.0 * i, 0, 0);
    for (int i = 0; i < 4; ++i) points.emplace_back(25.0 * i + 12.5, -20, 0);
    for (int i = 0; i < 4; ++i) triangles.push_back({4 + i, 3 + i, 8 + i});
    const StitchCounts counts = stitch(points, triangles, 0.05);
    EXPECT_EQ(counts.joined, 2u);
    EXPECT_EQ(counts.split, 1u);
    EXPECT_EQ(triangles.size(), 4u + 4u);
    double area = 0.0;
    for (const auto& [a, b, c] : triangles)
        area += 0.5 * (points[b] - points[a]).cross(points[c] - points[a]).z();
    EXPECT_NEAR(area, 0.5 * 100 * 60 + 4 * 0.5 * 25 * 20, 1e-9);
    const auto topology = find_neighbours(triangles, points.size()).topology;
    EXPECT_EQ(boundary_loops(triangles, topology).size(), 1u);
}

TEST(SplitPinches, GivesEachOpenFanItsOwnVertex) {
    // Three sheets that share one corner: two copies are added, at its place.
    PlainMesh mesh = sheet(2, 2);
    const Vec3 corner = mesh.points[0];
    for (const double turn : {2.0, 4.0}) {
        const auto first = static_cast<std::int32_t>(mesh.points.size());
        append(mesh, grid(2, 2, [&](double u, double v) {
                   return Vec3(80 * (u * std::cos(turn) - v * std::sin(turn)),
                               80 * (u * std::sin(turn) + v * std::cos(turn)), 0);
               }));
        for (auto& t : mesh.triangles)
            for (std::int32_t& v : t)
                if (v == first) v = 0;
    }
    const std::size_t before = mesh.points.size();
    EXPECT_EQ(split_pinches(mesh.points, mesh.triangles), 2u);
    ASSERT_EQ(mesh.points.size(), before + 2);
    EXPECT_EQ(mesh.points[before], corner);
    EXPECT_EQ(mesh.points[before + 1], corner);
    const auto topology = find_neighbours(mesh.triangles, mesh.points.size()).topology;
    const auto loops = boundary_loops(mesh.triangles, topology);
    EXPECT_EQ(loops.size(), 3u);
    for (const auto& loop : loops) EXPECT_EQ(loop.size(), 8u);
    EXPECT_EQ(split_pinches(mesh.points, mesh.triangles), 0u) << "nothing is left to part";
}

std::vector<Part> parts_of(PlainMesh mesh) {
    Topology topology = find_neighbours(mesh.triangles, mesh.points.size()).topology;
    (void)make_consistent(mesh.triangles, topology);
    return measure_parts(mesh.points, mesh.triangles, topology);
}

TEST(MeasureParts, HaveAreaAndVolumeOfClosedAndOpenBodies) {
    // A box of 30 x 40 x 50 far from the origin: 2 (1200 + 1500 + 2000) mm2, 60000 mm3, less than
    // nothing when it is turned inside out; half a tube of radius 500, closed by a cone over its
    // rim, has the sign of its bulge.
    const PlainMesh box = test::box({1000, 2000, -300}, {1030, 2040, -250});
    auto parts = parts_of(box);
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_TRUE(parts[0].closed());
    EXPECT_NEAR(parts[0].area, 9400.0, 1e-9);
    EXPECT_NEAR(parts[0].volume, 60000.0, 1e-6);
    EXPECT_NEAR(parts_of(test::turned_over(box))[0].volume, -60000.0, 1e-6);
    EXPECT_TRUE(knows_outside(parts[0]));
    const PlainMesh half = test::trough(500.0, 2000.0, 60, 20);
    parts = parts_of(half);
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_EQ(parts[0].loops.size(), 1u);
    EXPECT_NEAR(parts[0].area, std::numbers::pi * 500 * 2000, 1e-3 * parts[0].area);
    EXPECT_GT(parts[0].volume, 0.0);
    EXPECT_LT(parts_of(test::turned_over(half))[0].volume, 0.0);
    EXPECT_TRUE(knows_outside(parts[0]));
}

TEST(MeasureParts, AFlatSheetDoesNotKnowItsOutside) {
    const auto parts = parts_of(sheet(4, 4));
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_NEAR(parts[0].volume, 0.0, 1e-9);
    EXPECT_FALSE(knows_outside(parts[0]));
    // A spherical cap of height h over radius a has about pi a^2 h / 2 between it and its rim's
    // plane, and as much as a cone: |V| >= 0.005 A^1.5 asks for h of about 0.018 a.
    for (const double bulge : {0.006, 0.06}) {
        const PlainMesh cap = grid(20, 20, [&](double u, double v) {
            const double x = 2 * u - 1, y = 2 * v - 1;
            return Vec3(100 * x, 100 * y, 100 * bulge * (2 - x * x - y * y));
        });
        EXPECT_EQ(knows_outside(parts_of(cap)[0]), bulge > 0.02) << bulge;
    }
}

}  // namespace
}  // namespace tearline::hull

#include "core/remesh/remesh.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/analytic_carriers.h"
#include "tests/support/remesh_meshes.h"

namespace tearline::remesh {
namespace {

/// The number of edges longer than `share` of their wished length.
int longer_than(const RemeshMesh& mesh, double share) {
    int count = 0;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3 && mesh.triangle[t].alive(); ++i) {
            const auto& v = mesh.triangle[t].vertex;
            const double wished =
                std::min(mesh.vertex[v[i]].size, mesh.vertex[v[(i + 1) % 3]].size);
            count += mesh.length2({t, i}) > share * share * wished * wished * (1 + 1e-12) ? 1 : 0;
        }
    return count;
}

double smallest_angle_degrees(const RemeshMesh& mesh) {
    double least = std::numbers::pi;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3 && mesh.triangle[t].alive(); ++i) {
            const Vec3 a = mesh.point(t, i + 1) - mesh.point(t, i);
            const Vec3 b = mesh.point(t, i + 2) - mesh.point(t, i);
            least = std::min(least, std::atan2(a.cross(b).norm(), a.dot(b)));
        }
    return least * 180.0 / std::numbers::pi;
}

/// On a sphere about the origin, by the angle from +z.
std::function<Vec3(const Vec2&)> on_ball(double radius) {
    return [radius](const Vec2& p) {
        const double r = p.norm(), a = r / radius;
        const Vec2 e = r > 0.0 ? Vec2(p / r) : Vec2(1, 0);
        return Vec3(radius * Vec3(std::sin(a) * e.x(), std::sin(a) * e.y(), std::cos(a)));
    };
}

TEST(SetSizes, TurnsByTheTurnAskedForAlongAnEdge) {
    // By hand: an edge of length s on radius R turns by s / R, so s = turn x R, within the bounds.
    const RemeshOptions options{12.0, 1.5, 0.2};
    for (const auto& [radius, size] : {std::pair(40.0, 8.0), {500.0, 12.0}, {5.0, 1.5}}) {
        RemeshMesh mesh = test::remesh_mesh(test::disc(3.0, 2), on_ball(radius));
        set_sizes(mesh, test::SphereCarrier(radius), options);
        for (const RemeshVertex& v : mesh.vertex) EXPECT_NEAR(v.size, size, 1e-9) << radius;
    }
    RemeshMesh flat = test::remesh_mesh(test::disc(3.0, 2));
    set_sizes(flat, test::PlaneCarrier(), options);
    for (const RemeshVertex& v : flat.vertex) EXPECT_EQ(v.size, 12.0);
}

/// A carrier whose curvature depends on the face: 1/10 mm on face 1, flat on face 0.
class TwoFaces final : public test::PlaneCarrier {
public:
    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        auto out = PlaneCarrier::carry(start, point);
        if (start.face == 1) out.curvature_min = -0.1;
        return out;
    }
};

TEST(SetSizes, AlongAKeptEdgeTheSharperSideDecides) {
    // Hollow counts as bulging: |1/10 mm| and 0.2 rad give 2 mm.
    RemeshMesh mesh =
        test::remesh_mesh({{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{0, 1, 2}, {0, 2, 3}}});
    for (surface::Anchor& a : mesh.triangle[TriangleId(1)].anchor) a.face = 1;
    mesh.triangle[TriangleId(0)].kept[2] =
        mesh.triangle[TriangleId(1)].kept[0] = {0, 0.0, 1.0, false};
    set_sizes(mesh, TwoFaces(), {10.0, 1.0, 0.2});
    EXPECT_NEAR(mesh.vertex[VertexId(0)].size, 2.0, 1e-12);
    EXPECT_NEAR(mesh.vertex[VertexId(2)].size, 2.0, 1e-12);
    EXPECT_NEAR(mesh.vertex[VertexId(3)].size, 2.0, 1e-12);
    EXPECT_EQ(mesh.vertex[VertexId(1)].size, 10.0);
}

TEST(SplitLongEdges, LeavesNoneOverFourThirds) {
    RemeshMesh mesh = test::remesh_mesh(test::rectangle_mesh(100, 60, 3, 2));
    const test::PlaneCarrier plane;
    const RemeshOptions options{7.0, 1.0, 0.2};
    set_sizes(mesh, plane, options);
    const double before = test::area_of(mesh);
    split_long_edges(mesh, plane, options);
    EXPECT_EQ(longer_than(mesh, 4.0 / 3.0), 0);
    EXPECT_NEAR(test::area_of(mesh), before, 1e-9);
    test::expect_sound(mesh);
    // No edge is split below half of 4/3: by Euler's count there are about area / (s^2 sqrt(3)/4)
    // triangles of side s for s from two thirds to four thirds of the size.
    const double of_size = 6000.0 / (49.0 * std::sqrt(3.0) / 4.0);
    EXPECT_GT(mesh.triangle.size(), of_size * 9.0 / 16.0);
    EXPECT_LT(mesh.triangle.size(), of_size * 9.0 / 4.0);
}

TEST(SplitLongEdges, PutsNewVerticesOnTheSurface) {
    // A coarse ball cap: new vertices on the sphere to rounding, old ones where they were.
    RemeshMesh mesh = test::remesh_mesh(test::disc(80, 2), on_ball(100));
    const auto old = mesh.vertex;
    const test::SphereCarrier ball(100.0);
    const RemeshOptions options{9.0, 1.0, 0.5};
    set_sizes(mesh, ball, options);
    split_long_edges(mesh, ball, options);
    EXPECT_GT(mesh.vertex.size(), 4 * old.size());
    for (const VertexId v : mesh.vertex.ids()) {
        EXPECT_NEAR(mesh.vertex[v].position.norm(), 100.0, 1e-9);
        if (v.index() < old.size()) {
            EXPECT_EQ(mesh.vertex[v].position, old[v].position);
        }
    }
    EXPECT_EQ(longer_than(mesh, 4.0 / 3.0), 0);
}

TEST(SplitLongEdges, HalvesAKeptEdgeOnItsOwnCurve) {
    // The rim along y = 0 is a kept line with x as parameter: every vertex that comes to lie on it
    // does so at its parameter, to rounding, and evenly.
    RemeshMesh mesh = test::remesh_mesh(test::rectangle_mesh(80, 40, 1, 1));
    test::keep_rim_along(mesh, 0.0);
    const test::PlaneCarrier plane;
    const RemeshOptions options{10.0, 1.0, 0.2};
    set_sizes(mesh, plane, options);
    split_long_edges(mesh, plane, options);
    int kept = 0;
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i)
            if (t.kept[i].kept()) {
                ++kept;
                EXPECT_NEAR(t.kept[i].from, mesh.vertex[t.vertex[i]].position.x(), 1e-9);
                EXPECT_NEAR(t.kept[i].to - t.kept[i].from, 10.0, 1e-9);
                EXPECT_TRUE(t.kept[i].hull_end);
            }
    EXPECT_EQ(kept, 8);  // 80 halved three times: 10 is under 4/3 of 10
}

/// A kept edge whose parameter runs unevenly: x = 80 p^2.
class SquaredEdge final : public test::PlaneCarrier {
public:
    [[nodiscard]] Vec3 edge_point(std::int32_t, double p) const override {
        return {80.0 * p * p, 0.0, 0.0};
    }
};

TEST(SplitLongEdges, FindsTheMiddleOfAnUnevenParameter) {
    // By hand: the middle of 0 to 80 lies at p = sqrt(1/2), where the middle parameter 1/2 would
    // put it at 20. Three corrections bring it within a few percent.
    RemeshMesh mesh = test::remesh_mesh({{{0, 0}, {80, 0}, {40, 30}}, {{0, 1, 2}}});
    mesh.triangle[TriangleId(0)].kept[0] = {0, 0.0, 1.0, false};
    const SquaredEdge carrier;
    const RemeshOptions options{45.0, 1.0, 0.2};
    set_sizes(mesh, carrier, options);
    split_long_edges(mesh, carrier, options);
    ASSERT_EQ(mesh.vertex.size(), 4u);
    EXPECT_NEAR(mesh.vertex[VertexId(3)].position.x(), 40.0, 2.0);
    EXPECT_EQ(mesh.vertex[VertexId(3)].position.y(), 0.0);
}

TEST(SplitLongEdges, GradesSizesFromAFinePlace) {
    // By hand: half way along 60 mm from a vertex of 4 mm a size may have grown by half of 30 mm,
    // to 19; between two of 20 mm it stays what the curvature asks for.
    const test::PlaneMesh one{{{0, 0}, {60, 0}, {30, 20}}, {{0, 1, 2}}};
    const test::PlaneCarrier plane;
    const RemeshOptions options{20.0, 1.0, 0.2};
    RemeshMesh fine = test::remesh_mesh(one), even = test::remesh_mesh(one);
    set_sizes(fine, plane, options);
    set_sizes(even, plane, options);
    fine.vertex[VertexId(0)].size = 4.0;
    split_long_edges(fine, plane, options);
    split_long_edges(even, plane, options);
    EXPECT_EQ(fine.vertex[VertexId(3)].position, Vec3(30, 0, 0));
    EXPECT_NEAR(fine.vertex[VertexId(3)].size, 19.0, 1e-12);
    EXPECT_EQ(even.vertex[VertexId(3)].position, Vec3(30, 0, 0));
    EXPECT_NEAR(even.vertex[VertexId(3)].size, 20.0, 1e-12);
    EXPECT_EQ(longer_than(fine, 4.0 / 3.0), 0);
    EXPECT_GT(fine.vertex.size(), even.vertex.size() + 5);
}

TEST(CollapseShortEdges, LeavesTheFigureCoveredOnce) {
    // A disc of 5 mm edges where 20 mm are wished: most vertices go, the rim stays, and no edge is
    // made longer than 4/3 of the wish.
    const auto figure = test::disc(60, 12);
    RemeshMesh mesh = test::remesh_mesh(figure);
    const test::PlaneCarrier plane;
    set_sizes(mesh, plane, {20.0, 1.0, 0.2});
    const double before = test::area_of(mesh);
    const std::size_t gone = collapse_short_edges(mesh, plane, 0.75);
    EXPECT_GT(gone, 150u);
    EXPECT_EQ(test::count_alive(mesh), figure.triangle.size() - 2 * gone);
    test::expect_sound(mesh);
    EXPECT_NEAR(test::area_of(mesh), before, 1e-8);
    EXPECT_EQ(longer_than(mesh, 4.0 / 3.0), 0);
    // The rim's 72 vertices are no one's to move.
    for (std::size_t v = figure.place.size() - 72; v < figure.place.size(); ++v)
        EXPECT_TRUE(mesh.vertex[VertexId(v)].triangle.valid());
}

TEST(CollapseShortEdges, SlidesVerticesAlongAKeptLineAndKeepsItsEnds) {
    RemeshMesh mesh = test::remesh_mesh(test::rectangle_mesh(100, 40, 20, 8));
    for (const double y : {0.0, 40.0}) test::keep_rim_along(mesh, y);
    const test::PlaneCarrier plane;
    set_sizes(mesh, plane, {15.0, 1.0, 0.2});
    EXPECT_GT(collapse_short_edges(mesh, plane, 0.75), 60u);
    test::expect_sound(mesh);
    EXPECT_NEAR(test::area_of(mesh), 4000.0, 1e-8);
    for (const double y : {0.0, 40.0}) {
        double along = 0.0;
        int edges = 0;
        for (const auto& t : mesh.triangle)
            for (int i = 0; i < 3 && t.alive(); ++i)
                if (t.kept[i].kept() && t.kept[i].edge == static_cast<int>(y)) {
                    along += std::abs(t.kept[i].to - t.kept[i].from);
                    ++edges;
                }
        EXPECT_NEAR(along, 100.0, 1e-9) << "the line is all there";
        EXPECT_LT(edges, 15) << "of 20 edges of 5 mm";
    }
}

TEST(CollapseShortEdges, KeepsAnInnerCreaseWhole) {
    // A kept line through the middle of a figure: vertices may leave along it, never off it.
    RemeshMesh mesh = test::remesh_mesh(test::rectangle_mesh(100, 40, 20, 8));
    for (auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            const Vec3& a = mesh.vertex[t.vertex[i]].position;
            const Vec3& b = mesh.vertex[t.vertex[(i + 1) % 3]].position;
            if (a.y() == 20.0 && b.y() == 20.0) t.kept[i] = {20, a.x(), b.x(), false};
        }
    const test::PlaneCarrier plane;
    set_sizes(mesh, plane, {15.0, 1.0, 0.2});
    collapse_short_edges(mesh, plane, 0.75);
    test::expect_sound(mesh);
    EXPECT_NEAR(test::area_of(mesh), 4000.0, 1e-8);
    double along = 0.0;
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3 && t.alive(); ++i)
            if (t.kept[i].kept()) {
                EXPECT_EQ(mesh.vertex[t.vertex[i]].position.y(), 20.0);
                EXPECT_EQ(mesh.vertex[t.vertex[i]].position.x(), t.kept[i].from);
                along += std::abs(t.kept[i].to - t.kept[i].from);
            }
    EXPECT_NEAR(along, 2 * 100.0, 1e-9);  // from both sides
}

/// Whether every inner edge that may be flipped has an empty circle through its triangle (in the
/// plane: opposite angles of no more than 180 degrees together).
int not_delaunay(const RemeshMesh& mesh) {
    int count = 0;
    for (const TriangleId t : mesh.triangle.ids()) {
        for (int i = 0; i < 3 && mesh.triangle[t].alive(); ++i) {
            const TriangleId n = mesh.triangle[t].neighbour[i];
            if (!n.valid() || mesh.triangle[t].kept[i].kept()) continue;
            const int k =
                mesh.edge_in(n, mesh.triangle[t].vertex[(i + 1) % 3], mesh.triangle[t].vertex[i]);
            // The circle through a, b, c by its determinant, with d inside: positive.
            const Vec2 d = mesh.point(n, k + 2).head<2>();
            Eigen::Matrix3d m;
            for (int r = 0; r < 3; ++r) {
                const Vec2 p = mesh.point(t, i + r).head<2>() - d;
                m.row(r) << p.x(), p.y(), p.squaredNorm();
            }
            count += m.determinant() > 1e-3 ? 1 : 0;
        }
    }
    return count;
}

/// A disc whose inner vertices are shaken by some share of its edges.
test::PlaneMesh shaken_disc(double radius, int rings, double share, std::uint32_t seed) {
    auto figure = test::disc(radius, rings);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> shake(-share, share);
    for (Vec2& p : figure.place)
        if (p.norm() < radius * (1 - 0.5 / rings))
            p += radius / rings * Vec2(shake(random), shake(random));
    return figure;
}

TEST(FlipToDelaunay, EmptiesEveryCircle) {
    // Second route: the determinant of the circle test. 0.32 of an edge turns no triangle over.
    RemeshMesh mesh = test::remesh_mesh(shaken_disc(60, 8, 0.32, 4242));
    ASSERT_GT(not_delaunay(mesh), 5) << "nothing to do";
    const double before = test::area_of(mesh);
    flip_to_delaunay(mesh, test::PlaneCarrier());
    EXPECT_EQ(not_delaunay(mesh), 0);
    EXPECT_NEAR(test::area_of(mesh), before, 1e-9);
    test::expect_sound(mesh);
    EXPECT_TRUE(mesh.touched.empty());
}

TEST(FlipToDelaunay, LeavesKeptEdgesAndSeamsOfParameters) {
    // A thin kite: its long diagonal fails the circle test, and goes unless something keeps it.
    const test::PlaneMesh kite{{{-30, 0}, {0, -4}, {30, 0}, {0, 4}}, {{0, 1, 2}, {0, 2, 3}}};
    const test::PlaneCarrier plane;
    const auto has_long = [](const RemeshMesh& mesh) {
        for (const TriangleId t : mesh.triangle.ids())
            for (int i = 0; i < 3; ++i)
                if (mesh.length2({t, i}) > 3000.0) return true;
        return false;
    };
    RemeshMesh free = test::remesh_mesh(kite);
    flip_to_delaunay(free, plane);
    EXPECT_FALSE(has_long(free));
    RemeshMesh kept = test::remesh_mesh(kite);
    kept.triangle[TriangleId(0)].kept[2] = {0, 0.0, 1.0, false};
    kept.triangle[TriangleId(1)].kept[0] = {0, 1.0, 0.0, false};
    flip_to_delaunay(kept, plane);
    EXPECT_TRUE(has_long(kept));
    RemeshMesh seam = test::remesh_mesh(kite);
    for (surface::Anchor& a : seam.triangle[TriangleId(1)].anchor) a.face = 1;
    flip_to_delaunay(seam, plane);
    EXPECT_TRUE(has_long(seam));
}

TEST(FlipToDelaunay, DoesNotStandATriangleOnEnd) {
    // A ridge from (-3,0,0) to (30,0,0) with a corner down on either side, seen under more than 90
    // degrees from both: it fails the circle test. The flip's triangle at the short end has the
    // normal's cosine 3 / sqrt(9 + h^2) with that of the pair: 0.71 for h = 3, 0.35 for h = 8,
    // where 0.5 is the least.
    const test::PlaneCarrier plane;
    for (const double h : {3.0, 8.0}) {
        RemeshMesh mesh =
            test::remesh_mesh({{{-3, 0}, {0, -2}, {30, 0}, {0, 2}}, {{0, 1, 2}, {0, 2, 3}}});
        for (const int v : {1, 3}) mesh.vertex[VertexId(v)].position.z() = -h;
        flip_to_delaunay(mesh, plane);
        const auto& v = mesh.triangle[TriangleId(0)].vertex;
        const bool ridge_stays = std::count(v.begin(), v.end(), VertexId(0)) +
                                     std::count(v.begin(), v.end(), VertexId(2)) ==
                                 2;
        EXPECT_EQ(ridge_stays, h > 5.0) << h;
    }
}

TEST(Relax, LeavesARegularMeshAlone) {
    // Closed form: in a lattice of equilateral triangles every vertex is the centroid of its ring.
    test::PlaneMesh lattice;
    const double h = 10.0 * std::sqrt(3.0) / 2.0;
    for (int j = 0; j < 7; ++j)
        for (int i = 0; i < 7; ++i) lattice.place.emplace_back(10.0 * i + 5.0 * j, h * j);
    for (int j = 0; j < 6; ++j)
        for (int i = 0; i < 6; ++i) {
            const int a = 7 * j + i;
            lattice.triangle.push_back({a, a + 1, a + 7});
            lattice.triangle.push_back({a + 1, a + 8, a + 7});
        }
    RemeshMesh mesh = test::remesh_mesh(lattice);
    set_sizes(mesh, test::PlaneCarrier(), {10.0, 1.0, 0.2});
    const auto before = mesh.vertex;
    relax(mesh, test::PlaneCarrier());
    for (const VertexId v : mesh.vertex.ids())
        EXPECT_LT((mesh.vertex[v].position - before[v].position).norm(), 1e-10);
}

TEST(Relax, MovesAVertexTowardsTheMiddleOfItsHexagon) {
    // By hand: the middle of a regular hexagon of side 10 stands at (3, 0). Triangles weigh by
    // area; the centroid of the six centroids is that of the hexagon, (0, 0), less nothing: a
    // vertex's ring always has its polygon's centroid. So the vertex goes to 3 - 1.4 x 3 = -1.2.
    test::PlaneMesh hexagon{{{3, 0}}, {}};
    for (int k = 0; k < 6; ++k) {
        const double a = std::numbers::pi * k / 3;
        hexagon.place.emplace_back(10 * std::cos(a), 10 * std::sin(a));
        hexagon.triangle.push_back({0, k + 1, (k + 1) % 6 + 1});
    }
    RemeshMesh mesh = test::remesh_mesh(hexagon);
    set_sizes(mesh, test::PlaneCarrier(), {10.0, 1.0, 0.2});
    relax(mesh, test::PlaneCarrier());
    EXPECT_NEAR(mesh.vertex[VertexId(0)].position.x(), -1.2, 1e-9);
    EXPECT_NEAR(mesh.vertex[VertexId(0)].position.y(), 0.0, 1e-9);
    for (const auto& t : mesh.triangle)
        EXPECT_EQ(t.anchor[0].uv, mesh.vertex[VertexId(0)].position.head<2>())
            << "its anchors go with it";
}

TEST(Relax, KeepsOnTheSurfaceAndOffKeptLines) {
    RemeshMesh mesh = test::remesh_mesh(shaken_disc(60, 6, 0.25, 7), on_ball(90));
    const test::SphereCarrier ball(90.0);
    set_sizes(mesh, ball, {10.0, 1.0, 0.2});
    // Ring 3 (vertices 19 to 36) as a kept line.
    for (auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            const auto on = [](VertexId v) { return v.value >= 19 && v.value <= 36; };
            if (on(t.vertex[i]) && on(t.vertex[(i + 1) % 3])) t.kept[i].edge = 0;
        }
    const auto before = mesh.vertex;
    relax(mesh, ball);
    double moved = 0.0;
    for (const VertexId v : mesh.vertex.ids()) {
        EXPECT_NEAR(mesh.vertex[v].position.norm(), 90.0, 1e-9);
        const double step = (mesh.vertex[v].position - before[v].position).norm();
        if ((v.index() >= 19 && v.index() <= 36) || v.index() + 36 >= before.size()) {
            EXPECT_EQ(step, 0.0) << v.value;
        }
        moved = std::max(moved, step);
    }
    EXPECT_GT(moved, 0.5);
}

TEST(Remesh, FillsARectangleWithNearEquilateralTriangles) {
    // The whole way on a plane: all four sides kept (two as lines, two as they are), the area
    // exact, angles sound, sizes as wished. From a mesh far too fine, and from one far too coarse.
    for (const auto& [across, along] : {std::pair(50, 30), {4, 2}}) {
        RemeshMesh mesh = test::remesh_mesh(test::rectangle_mesh(100, 60, across, along));
        for (const double y : {0.0, 60.0}) test::keep_rim_along(mesh, y);
        const test::PlaneCarrier plane;
        remesh(mesh, plane, {8.0, 1.0, 0.2});
        test::expect_sound(mesh);
        EXPECT_NEAR(test::area_of(mesh), 6000.0, 1e-6);
        EXPECT_EQ(longer_than(mesh, 4.0 / 3.0), 0) << across;
        double sum = 0.0;
        for (const TriangleId t : mesh.triangle.ids())
            for (int i = 0; i < 3; ++i) sum += std::sqrt(mesh.length2({t, i}));
        const double mean = sum / (3.0 * static_cast<double>(mesh.triangle.size()));
        EXPECT_GT(mean, 0.6 * 8.0) << across;
        EXPECT_LT(mean, 1.2 * 8.0) << across;
        if (across == 4) {
            EXPECT_GT(smallest_angle_degrees(mesh), 20.0);
        }
        EXPECT_EQ(not_delaunay(mesh), 0) << across;
    }
}

TEST(Remesh, FollowsASphereToTheSagittaOfItsEdges) {
    // Closed form: the flat triangles of a cap of radius R and angle a, vertices on the sphere,
    // miss of its area 2 pi R^2 (1 - cos a) no more than about (edge / R)^2 / 8 each, and the rim
    // the sagitta of its chords.
    const double R = 100.0, a = 0.8;
    RemeshMesh mesh = test::remesh_mesh(test::disc(R * a, 40), on_ball(R));
    const test::SphereCarrier ball(R);
    remesh(mesh, ball, {15.0, 1.0, 0.1});
    test::expect_sound(mesh);
    for (const RemeshVertex& v : mesh.vertex) {
        EXPECT_NEAR(v.position.norm(), R, 1e-9);
        EXPECT_NEAR(v.size, 10.0, 1e-9);
    }
    EXPECT_EQ(longer_than(mesh, 4.0 / 3.0), 0);
    const double cap = 2 * std::numbers::pi * R * R * (1 - std::cos(a));
    EXPECT_LT(test::area_of(mesh), cap);
    EXPECT_GT(test::area_of(mesh), cap * (1 - 0.133 * 0.133 / 8 - 2e-4));
    EXPECT_LT(mesh.triangle.size(), 6u * 40u * 40u / 8u) << "from 2 mm to 10 mm";
}

TEST(Remesh, GivesTheSameMeshTwice) {
    std::vector<Vec3> first;
    for (int run = 0; run < 2; ++run) {
        RemeshMesh mesh = test::remesh_mesh(shaken_disc(50, 9, 0.3, 99), on_ball(120));
        remesh(mesh, test::SphereCarrier(120.0), {9.0, 1.0, 0.2});
        std::vector<Vec3> now;
        for (const RemeshVertex& v : mesh.vertex) now.push_back(v.position);
        if (run == 0)
            first = now;
        else
            EXPECT_EQ(first, now);
    }
}

}  // namespace
}  // namespace tearline::remesh

#include "core/patch/crop_hull.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/patch/assemble_patch.h"
#include "core/patch/repair_region.h"
#include "core/surface/curved_area.h"
#include "core/surface/mesh_parts.h"
#include "tests/support/analytic_carriers.h"
#include "tests/support/mesh_checks.h"
#include "tests/support/remesh_meshes.h"

namespace tearline::patch {
namespace {

PerId<TriangleId, bool> beyond(const remesh::RemeshMesh& mesh, double low, double high) {
    PerId<TriangleId, bool> out;
    for (const auto& t : mesh.triangle) {
        double x = 0.0;
        for (const VertexId v : t.vertex) x += mesh.vertex[v].position.x() / 3.0;
        out.add(x > low && x < high);
    }
    return out;
}

TEST(RemoveTriangles, MakesRimOfWhatIsLeftBeside) {
    // By hand: a strip of 100 x 40 without its middle fifth is two parts of 40 x 40.
    auto mesh = test::remesh_mesh(test::rectangle_mesh(100, 40, 10, 4));
    remove_triangles(mesh, beyond(mesh, 40, 60));
    EXPECT_EQ(mesh.triangle.size(), 2u * 8 * 4);
    EXPECT_EQ(mesh.vertex.size(), 2u * 5 * 5);
    test::expect_sound(mesh);
    EXPECT_NEAR(test::area_of(mesh), 2 * 40 * 40, 1e-9);
    int rim = 0;
    for (const auto& t : mesh.triangle)
        for (const TriangleId n : t.neighbour) rim += n.valid() ? 0 : 1;
    EXPECT_EQ(rim, 2 * 16);
    EXPECT_EQ(surface::count_parts(plain_mesh(mesh)), 2u);
}

TEST(KeepComponent, KeepsWhatHangsTogetherWithTheTriangle) {
    auto mesh = test::remesh_mesh(test::rectangle_mesh(100, 40, 10, 4));
    remove_triangles(mesh, beyond(mesh, 60, 80));
    ASSERT_EQ(surface::count_parts(plain_mesh(mesh)), 2u);
    TriangleId right;
    for (const TriangleId t : mesh.triangle.ids())
        if (mesh.point(t, 0).x() > 85) right = t;
    keep_component(mesh, right);
    EXPECT_NEAR(test::area_of(mesh), 20 * 40, 1e-9);
    test::expect_sound(mesh);
    for (const auto& v : mesh.vertex) EXPECT_GE(v.position.x(), 80.0);
}

TEST(KeepComponent, GivesEachSideOfAPinchItsOwnVertex) {
    // Two triangles taken out so that the rest hangs together round them and touches in one vertex:
    // afterwards the rim goes through every vertex once.
    auto mesh = test::remesh_mesh(test::rectangle_mesh(60, 60, 6, 6));
    PerId<TriangleId, bool> remove(mesh.triangle.size());
    for (const TriangleId t : remove.ids()) {
        const Vec3 c = (mesh.point(t, 0) + mesh.point(t, 1) + mesh.point(t, 2)) / 3.0;
        const auto in = [&](double x, double y) {
            return c.x() > x && c.x() < x + 10 && c.y() > y && c.y() < y + 10;
        };
        remove[t] = in(20, 20) || in(30, 30);
    }
    remove_triangles(mesh, remove);
    const std::size_t before = mesh.vertex.size();
    keep_component(mesh, TriangleId(0));
    EXPECT_EQ(mesh.vertex.size(), before + 1);
    test::expect_manifold(plain_mesh(mesh));
    EXPECT_NEAR(test::area_of(mesh), 3600 - 200, 1e-9);
}

TEST(CropHull, EndsWhereTheHullEndsAndNotWhereItIsCropped) {
    // A plate of 100 x 100 mm: a ball of 20 mm round its middle meets no end, one
    // round the middle of a side only that side, and takes every triangle that comes so near.
    const test::PlaneMesh plate = test::rectangle_mesh(100, 100, 20, 20);
    hull::Hull hull;
    for (const Vec2& p : plate.place) hull.vertices.emplace_back(p.x(), p.y(), 0.0);
    hull.triangles = plate.triangle;
    for (const double x : {50.0, 0.0}) {
        const CroppedHull cropped = crop_hull(hull, {x, 50, 0}, 20.0);
        int ends = 0, rim = 0;
        for (const TriangleId t : cropped.mesh.triangle.ids())
            for (int i = 0; i < 3; ++i) {
                rim += cropped.mesh.triangle[t].neighbour[i].valid() ? 0 : 1;
                if (!cropped.mesh.triangle[t].kept[i].hull_end) continue;
                ++ends;
                EXPECT_EQ(cropped.mesh.point(t, i).x(), 0.0);
                EXPECT_EQ(cropped.mesh.point(t, (i + 1) % 3).x(), 0.0);
            }
        // From y = 30 to 70 by edges of 5 mm; those that the ball touches in one point count too.
        EXPECT_GE(ends, x == 0.0 ? 8 : 0);
        EXPECT_LE(ends, x == 0.0 ? 10 : 0);
        EXPECT_GT(rim, ends);
        const double area = test::area_of(cropped.mesh);
        const double disc = std::numbers::pi * 20.0 * 20.0 * (x == 0.0 ? 0.5 : 1.0);
        EXPECT_GT(area, disc);
        EXPECT_LT(area, disc * std::pow(27.1 / 20.0, 2)) << "a triangle's longest side beyond it";
    }
}

TEST(PlainMesh, HasTheChordsAsLengths) {
    const auto mesh = plain_mesh(test::remesh_mesh({{{0, 0}, {3, 0}, {0, 4}}, {{0, 1, 2}}}));
    EXPECT_EQ(mesh.edge_length[0], (std::array<double, 3>{3, 5, 4}));
    EXPECT_EQ(mesh.triangle[0], (std::array<std::int32_t, 3>{0, 1, 2}));
}

TEST(RepairRegion, HoldsTheOutlineInsideItsBall) {
    // A square of seeds, given with its first point repeated: the centre is their mean, the radius
    // that of the smooth curve through them, which bulges past the sides, and the reach.
    PatchRequest request;
    request.seeds = {{50, 50, 3}, {-50, 50, 3}, {-50, -50, 3}, {50, -50, 3}, {50, 50, 3}};
    request.reach = 30.0;
    const RepairRegion region = repair_region(request);
    EXPECT_LT((region.centre - Vec3(0, 0, 3)).norm(), 1e-12);
    EXPECT_EQ(region.reach, 30.0);
    EXPECT_GE(region.radius, 50 * std::sqrt(2.0) + 30.0);
    EXPECT_LT(region.radius, 50 * std::sqrt(2.0) + 30.0 + 5.0);
    for (const Vec3& seed : request.seeds)
        EXPECT_TRUE(std::any_of(region.points.begin(), region.points.end(),
                                [&](const Vec3& p) { return (p - seed).norm() < 1e-9; }));
    double nearest = 1e9;
    for (const Vec3& p : region.points) {
        EXPECT_LE((p - region.centre).norm() + region.reach, region.radius + 1e-9);
        nearest = std::min(nearest, (p - region.centre).norm());
    }
    EXPECT_LT(nearest, 15.0) << "the inside is covered too";
}

TEST(RepairRegion, OfACentreIsThePointWithItsRadius) {
    PatchRequest request;
    request.seeds = {{10, 20, 30}};
    request.damage_radius = 45.0;
    request.reach = 100.0;
    const RepairRegion region = repair_region(request);
    EXPECT_EQ(region.points.size(), 1u);
    EXPECT_EQ(region.centre, Vec3(10, 20, 30));
    EXPECT_EQ(region.reach, 145.0);
    EXPECT_EQ(region.radius, 145.0);
}

TEST(DistanceFrom, IsThatOfThePlaneToFirstOrder) {
    // Bounds: never under the straight distance from the nearest point; nowhere over the way along
    // edges of near-equilateral triangles, 2 / sqrt(3) as long, and one edge of 5 mm to begin with;
    // in the mean not over what the marching is known to lose, edge / 7 ln(70 / 3).
    const auto mesh = plain_mesh(test::remesh_mesh(test::disc(120, 24)));
    RepairRegion region;
    region.points = {{11, 7, 4}, {-30, 12, -2}};
    const auto distance = distance_from(region, mesh, 70.0);
    int reached = 0;
    double excess = 0.0;
    for (std::size_t v = 0; v < distance.size(); ++v) {
        double straight = 1e9;
        for (const Vec3& p : region.points)
            straight = std::min(straight, (mesh.position[v].head<2>() - p.head<2>()).norm());
        if (straight > 70.5) {
            EXPECT_TRUE(std::isinf(distance[v]));
        }
        if (!std::isfinite(distance[v])) continue;
        ++reached;
        EXPECT_GE(distance[v], straight - 1e-6);
        EXPECT_LE(distance[v], 2 / std::sqrt(3.0) * straight + 5.0) << v;
        excess += distance[v] - straight;
    }
    EXPECT_GT(reached, 500);
    EXPECT_LT(excess / reached, 5.0 / 7.0 * std::log(70.0 / 3.0));
}

CroppedHull on_ball(const test::PlaneMesh& figure, double R) {
    CroppedHull out;
    out.mesh = test::remesh_mesh(figure, [R](const Vec2& p) {
        const double r = p.norm(), a = r / R;
        const Vec2 e = r > 0.0 ? Vec2(p / r) : Vec2(1, 0);
        return Vec3(R * std::sin(a) * e.x(), R * std::sin(a) * e.y(), R * std::cos(a));
    });
    out.carrier = std::make_shared<test::SphereCarrier>(R);
    return out;
}

TEST(AssemblePatch, FacesTheLayingSide) {
    // From outside a ball normals point away from its centre and it bulges; from inside triangles
    // are turned over, normals point to the centre, and it is hollow. The area is the cap's both
    // ways: 2 pi R^2 (1 - cos a), the rim's polygon a little less.
    const double R = 100.0, reach = 60.0;
    for (const double sign : {1.0, -1.0}) {
        const auto patch = assemble_patch(on_ball(test::disc(reach, 12), R), sign);
        ASSERT_TRUE(patch) << patch.error().message();
        for (std::size_t t = 0; t < patch->mesh.triangle.size(); ++t) {
            const auto& v = patch->mesh.triangle[t];
            const Vec3& a = patch->mesh.position[v[0]];
            const Vec3 square =
                (patch->mesh.position[v[1]] - a).cross(patch->mesh.position[v[2]] - a);
            EXPECT_GT(sign * square.dot(a), 0.0);
            for (int k = 0; k < 3; ++k)
                EXPECT_LT((patch->mesh.corner_normal[t][k] -
                           sign * patch->mesh.position[v[k]].normalized())
                              .norm(),
                          1e-12);
        }
        EXPECT_GT(signed_area(patch->domain().outer), 0.0);
        const auto sample = patch->sample(*patch->locate(patch->chart[0]));
        EXPECT_NEAR(sample.curvature_max, sign / R, 1e-12);
        const double cap = 2 * std::numbers::pi * R * R * (1 - std::cos(reach / R));
        EXPECT_NEAR(surface::curved_area(patch->mesh) / cap, 1.0, 2e-3);
    }
}

TEST(AssemblePatch, TellsTheHullsEndFromWhereItWasCropped) {
    // The rim along y = 0 is the hull's own: those edges are ends, from either side.
    for (const double sign : {1.0, -1.0}) {
        CroppedHull cropped;
        cropped.mesh = test::remesh_mesh(test::rectangle_mesh(60, 30, 6, 3));
        test::keep_rim_along(cropped.mesh, 0.0);
        cropped.carrier = std::make_shared<test::PlaneCarrier>();
        const auto patch = assemble_patch(cropped, sign);
        ASSERT_TRUE(patch) << patch.error().message();
        int ends = 0;
        for (std::size_t t = 0; t < patch->mesh.triangle.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                if (!patch->hull_end[t][i]) continue;
                ++ends;
                EXPECT_LT(patch->neighbour[t][i], 0);
                for (const int k : {i, (i + 1) % 3})
                    EXPECT_EQ(patch->mesh.position[patch->mesh.triangle[t][k]].y(), 0.0);
            }
        EXPECT_EQ(ends, 6);
        EXPECT_TRUE(patch->crease_lines().empty()) << "a kept rim is no crease";
    }
}

TEST(AssemblePatch, RefusesABallButForAHoleForWhatItIs) {
    // A ball but for a hole at its pole cannot be laid flat within the stretch that is allowed.
    const auto patch =
        assemble_patch(on_ball(test::disc(0.97 * std::numbers::pi * 50, 30), 50), 1.0);
    ASSERT_FALSE(patch);
    EXPECT_EQ(patch.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(patch.error().what.find("curves too much"), std::string::npos) << patch.error().what;
    EXPECT_EQ(patch.error().what.find("tube"), std::string::npos) << "it has one rim";
}

}  // namespace
}  // namespace tearline::patch

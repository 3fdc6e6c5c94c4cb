#include "core/hull/mend.h"

#include <gtest/gtest.h>

#include "core/base/tolerances.h"
#include "core/hull/weld.h"
#include "tests/support/mesh_files.h"

namespace tearline::hull {
namespace {

using namespace tearline::test;

std::size_t openings(const MendedMesh& mesh) {
    return boundary_loops(mesh.triangles,
                          find_neighbours(mesh.triangles, mesh.vertices.size()).topology)
        .size();
}

TEST(Weld, JoinsWhatIsNearerThanItsReachAndNothingElse) {
    const Welded w = weld({{0, 0, 0}, {0.0009, 0, 0}, {0.0011, 0, 0}, {-0.0009, 0, 0}}, 1e-3);
    EXPECT_EQ(w.number, (std::vector<std::int32_t>{0, 0, 1, 0}));
}

TEST(Weld, WorksAcrossCellBordersFarFromTheOrigin) {
    // Pairs 0.5 um apart all over a line: every border of the search grid is straddled.
    std::vector<Vec3> points;
    for (int i = 0; i < 5000; ++i) {
        points.emplace_back(1e5 + 0.00731 * i, -1e5, 0.0);
        points.emplace_back(1e5 + 0.00731 * i + 0.0005, -1e5, 0.0);
    }
    EXPECT_EQ(weld(points, 1e-3).kept.size(), 5000u);
}

TEST(Mend, GapsUnderTheToleranceAreJoined) {
    // Two strips side by side, 0.05 mm apart: one surface with one opening.
    PlainMesh mesh = grid(10, 10, [](double u, double v) { return Vec3(500 * u, 500 * v, 0); });
    append(mesh,
           grid(10, 10, [](double u, double v) { return Vec3(500.05 + 500 * u, 500 * v, 0); }));
    const MendedMesh mended = mend(mesh.points, mesh.triangles, tolerance::weld);
    EXPECT_EQ(openings(mended), 1u);
    ASSERT_FALSE(mended.mended.empty());
    EXPECT_EQ(mended.mended[0], "11 edge vertices joined across gaps under 0.1 mm");
}

TEST(Mend, GapsOverTheToleranceStayOpen) {
    PlainMesh mesh = grid(10, 10, [](double u, double v) { return Vec3(500 * u, 500 * v, 0); });
    append(mesh,
           grid(10, 10, [](double u, double v) { return Vec3(500.5 + 500 * u, 500 * v, 0); }));
    EXPECT_EQ(openings(mend(mesh.points, mesh.triangles, tolerance::weld)), 2u);
}

TEST(Mend, TJunctionsAreSplitSoThatTheSurfaceIsOne) {
    // Ten cells against four: their vertices lie on each other's edges.
    PlainMesh mesh = grid(5, 10, [](double u, double v) { return Vec3(500 * u, 500 * v, 0); });
    append(mesh, grid(5, 4, [](double u, double v) { return Vec3(500 + 500 * u, 500 * v, 0); }));
    const MendedMesh mended = mend(mesh.points, mesh.triangles, tolerance::weld);
    EXPECT_EQ(openings(mended), 1u);
    double area = 0.0;
    for (const auto& t : mended.triangles) {
        const Vec3& a = mended.vertices[static_cast<std::size_t>(t[0])];
        const Vec3 b = mended.vertices[static_cast<std::size_t>(t[1])] - a;
        const Vec3 c = mended.vertices[static_cast<std::size_t>(t[2])] - a;
        area += 0.5 * (b.x() * c.y() - b.y() * c.x());
    }
    EXPECT_DOUBLE_EQ(area, 500e3);  // 1000 x 500 mm, by hand
}

TEST(Mend, SurfacesThatTouchInOneVertexAreParted) {
    // Two squares with one corner in common: each gets a corner of its own.
    PlainMesh mesh = grid(1, 1, [](double u, double v) { return Vec3(100 * u, 100 * v, 0); });
    append(mesh,
           grid(1, 1, [](double u, double v) { return Vec3(100 + 100 * u, 100 + 100 * v, 0); }));
    const MendedMesh mended = mend(mesh.points, mesh.triangles, tolerance::weld);
    EXPECT_EQ(mended.vertices.size(), 8u);
    EXPECT_EQ(openings(mended), 2u);
}

TEST(Mend, ACleanMeshIsLeftAsItIs) {
    const PlainMesh mesh = trough(500.0, 2000.0, 20, 10);
    const MendedMesh mended = mend(mesh.points, mesh.triangles, tolerance::weld);
    EXPECT_TRUE(mended.mended.empty());
    EXPECT_EQ(mended.triangles.size(), mesh.triangles.size());
    EXPECT_EQ(mended.vertices.size(), mesh.points.size());
}

}  // namespace
}  // namespace tearline::hull

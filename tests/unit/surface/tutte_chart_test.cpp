#include "core/surface/tutte_chart.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "tests/support/analytic_meshes.h"

namespace tearline::surface {
namespace {

using std::numbers::pi;

const std::vector<std::int32_t>& longest(const std::vector<std::vector<std::int32_t>>& loops) {
    return *std::max_element(loops.begin(), loops.end(),
                             [](const auto& a, const auto& b) { return a.size() < b.size(); });
}

std::vector<Vec2> charted(const SurfaceMesh& mesh) {
    return tutte_chart(mesh, longest(boundary_loops(mesh)));
}

TEST(TutteChart, LaysTheRimOnACircleByItsLengths) {
    // By definition: a circle as long as the rim, each vertex as far round as it lies along it. A
    // rim of uneven steps: a disc squeezed to an ellipse.
    test::PlaneMesh disc = test::disc(80.0, 4);
    for (Vec2& p : disc.place) p.y() *= 0.4;
    const SurfaceMesh mesh = test::on_cylinder(disc, 1e9);
    const auto loops = boundary_loops(mesh);
    ASSERT_EQ(loops.size(), 1u);
    const auto& rim = loops[0];
    const auto chart = tutte_chart(mesh, rim);
    double whole = 0.0;
    std::vector<double> along;
    for (std::size_t k = 0; k < rim.size(); ++k) {
        along.push_back(whole);
        whole += (mesh.position[rim[(k + 1) % rim.size()]] - mesh.position[rim[k]]).norm();
    }
    for (std::size_t k = 0; k < rim.size(); ++k) {
        const double angle = 2.0 * pi * along[k] / whole;
        const Vec2 expected = whole / (2.0 * pi) * Vec2(std::cos(angle), std::sin(angle));
        EXPECT_LT((chart[rim[k]] - expected).norm(), 1e-6) << k;
    }
}

TEST(TutteChart, PutsEveryOtherVertexInTheMiddleOfItsNeighbours) {
    const SurfaceMesh mesh = test::on_sphere(test::disc(120.0, 6), 100.0);
    const auto chart = charted(mesh);
    std::map<std::int32_t, std::set<std::int32_t>> linked;
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            linked[t[i]].insert(t[(i + 1) % 3]);
            linked[t[(i + 1) % 3]].insert(t[i]);
        }
    const auto loops = boundary_loops(mesh);
    const std::set<std::int32_t> rim(loops[0].begin(), loops[0].end());
    int inner = 0;
    for (const auto& [v, others] : linked) {
        if (rim.contains(v)) continue;
        Vec2 mean(0, 0);
        for (const std::int32_t w : others) mean += chart[w] / static_cast<double>(others.size());
        EXPECT_LT((chart[v] - mean).norm(), 1e-9) << v;
        ++inner;
    }
    EXPECT_EQ(inner, 91);  // 1 + 6 + ... + 30
    EXPECT_LT(chart[0].norm(), 1e-9) << "six ways alike: the middle stays the middle";
}

TEST(TutteChart, FoldsNothingHoweverTheSurfaceIsCrumpled) {
    // Tutte's theorem: a rim on a convex curve, and no triangle turns over; with openings too.
    test::PlaneMesh plane =
        test::with_hole(test::with_hole(test::disc(100.0, 9), {35, 10}, 22.0), {-45, -20}, 15.0);
    SurfaceMesh mesh = test::on_sphere(plane, 60.0);
    for (std::size_t v = 0; v < mesh.position.size(); ++v)
        mesh.position[v] += 30.0 * Vec3(std::sin(7.0 * static_cast<double>(v)),
                                        std::cos(5.0 * static_cast<double>(v)),
                                        std::sin(3.0 * static_cast<double>(v)));
    ASSERT_EQ(boundary_loops(mesh).size(), 3u);
    const auto chart = charted(mesh);
    ASSERT_EQ(chart.size(), mesh.position.size());
    for (const auto& t : mesh.triangle)
        EXPECT_GT(cross2(chart[t[1]] - chart[t[0]], chart[t[2]] - chart[t[0]]), 0.0);
}

TEST(TutteChart, KnowsOfTheInsideHowItHangsTogetherAlone) {
    // Where inner vertices lie does not matter, nor where the whole does.
    const SurfaceMesh mesh = test::on_sphere(test::disc(90.0, 5), 150.0);
    const auto loops = boundary_loops(mesh);
    const std::set<std::int32_t> rim(loops[0].begin(), loops[0].end());
    SurfaceMesh moved = mesh;
    const Eigen::Matrix3d turn =
        Eigen::AngleAxisd(1.3, Vec3(2, -1, 0.5).normalized()).toRotationMatrix();
    for (std::size_t v = 0; v < moved.position.size(); ++v) {
        moved.position[v] = turn * moved.position[v] + Vec3(400, -70, 12);
        if (!rim.contains(static_cast<std::int32_t>(v))) moved.position[v] += Vec3(5, -9, 31);
    }
    const auto before = tutte_chart(mesh, loops[0]), after = tutte_chart(moved, loops[0]);
    for (std::size_t v = 0; v < before.size(); ++v)
        EXPECT_LT((before[v] - after[v]).norm(), 1e-9) << v;
}

}  // namespace
}  // namespace tearline::surface

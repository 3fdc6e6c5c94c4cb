#include "core/patch/build_patch.h"

#include <gtest/gtest.h>

#include <cmath>
#include <ctime>
#include <iostream>
#include <numbers>

#include "core/hull/read_hull.h"
#include "core/job/read_job.h"
#include "core/surface/chart.h"
#include "core/surface/trace_geodesic.h"
#include "tests/support/mesh_checks.h"

namespace tearline::patch {
namespace {

hull::Hull sample(const std::string& name) {
    job::HullOptions options;
    options.model = std::string(TEARLINE_SAMPLES) + "/" + name;
    if (name.ends_with(".stl")) options.unit = "mm";
    auto hull = hull::read_hull(options, job::Side::outside);
    if (!hull) throw std::runtime_error(hull.error().message());
    return std::move(*hull);
}

Result<surface::Patch> timed_patch(const hull::Hull& hull, const PatchRequest& request) {
    const std::clock_t start = std::clock();  // processor time: others may be at work
    auto patch = build_patch(hull, request);
    std::cout << "build_patch " << 1000.0 * (std::clock() - start) / CLOCKS_PER_SEC << " ms";
    if (patch) std::cout << ", " << patch->mesh.triangle.size() << " triangles";
    std::cout << "\n";
    return patch;
}

/// Share of triangles with an angle under 30 degrees.
double share_of_slivers(const surface::SurfaceMesh& mesh) {
    int slivers = 0;
    for (const auto& t : mesh.triangle) {
        double least = 1e9;
        for (int i = 0; i < 3; ++i) {
            const Vec3 a = mesh.position[t[(i + 1) % 3]] - mesh.position[t[i]];
            const Vec3 b = mesh.position[t[(i + 2) % 3]] - mesh.position[t[i]];
            least = std::min(least, std::atan2(a.cross(b).norm(), a.dot(b)));
        }
        if (least < std::numbers::pi / 6) ++slivers;
    }
    return static_cast<double>(slivers) / static_cast<double>(mesh.triangle.size());
}

void expect_sound(const surface::Patch& patch) {
    const surface::ChartQuality quality = surface::chart_quality(patch.mesh, patch.chart);
    EXPECT_GT(quality.least_stretch, 0.7);
    EXPECT_LT(quality.most_stretch, 1.4);
    EXPECT_LT(share_of_slivers(patch.mesh), 0.02);
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
        const auto& v = patch.mesh.triangle[t];
        ASSERT_GT(
            cross2(patch.chart[v[1]] - patch.chart[v[0]], patch.chart[v[2]] - patch.chart[v[0]]),
            0.0);
        for (int i = 0; i < 3; ++i) {
            ASSERT_NEAR(patch.mesh.corner_normal[t][i].norm(), 1.0, 1e-9);
            surface::Location at{TriangleId(t), Vec3::Unit(i)};
            EXPECT_LT((patch.sample(at).position - patch.mesh.position[v[i]]).norm(), 1e-3);
        }
    }
}

TEST(BuildPatch, LiesOnTheExactSphere) {
    PatchRequest request;
    request.seeds = {{0, 0, -600}};
    request.damage_radius = 150;
    request.reach = 150;
    const auto patch = timed_patch(sample("sphere.step"), request);
    ASSERT_TRUE(patch) << patch.error().message();
    expect_sound(*patch);
    for (std::size_t t = 0; t < patch->mesh.triangle.size(); ++t) {
        const surface::SurfaceSample s = patch->sample({TriangleId(t), Vec3(0.2, 0.5, 0.3)});
        ASSERT_NEAR(s.position.norm(), 600.0, 1e-6);
        ASSERT_LT((s.normal - s.position / 600.0).norm(), 1e-9);
        ASSERT_NEAR(s.curvature_min, 1.0 / 600, 1e-9);
        ASSERT_NEAR(s.curvature_max, 1.0 / 600, 1e-9);
    }
    // Reaches at least as far as asked, everywhere: the cap's own area is the least it may have.
    const double cap = 2 * std::numbers::pi * 600 * 600 * (1 - std::cos(0.5));
    EXPECT_GT(test::facet_area(patch->mesh), 0.999 * cap);
    EXPECT_LT(test::facet_area(patch->mesh), 1.25 * cap);
}

TEST(BuildPatch, TracesTheSphereToThePatchRim) {
    PatchRequest request;
    request.seeds = {{0, 0, -600}};
    request.damage_radius = 150;
    request.reach = 150;
    const auto patch = timed_patch(sample("sphere.step"), request);
    ASSERT_TRUE(patch) << patch.error().message();
    const auto centre = patch->nearest({0, 0, -600}).at;
    const surface::SurfaceSample start = patch->sample(centre);
    const std::vector<double> distances{100, 200, 295};
    for (int k = 0; k < 60; ++k) {
        const double a = k * std::numbers::pi / 30;
        const auto traced =
            surface::trace_geodesic(*patch, {centre, {std::cos(a), std::sin(a), 0}}, distances);
        ASSERT_EQ(traced.at.size(), 3u);
        for (int i = 0; i < 3; ++i) {
            const double angle = std::acos(patch->sample(traced.at[i]).normal.dot(start.normal));
            EXPECT_NEAR(600 * angle, distances[i], 0.02);
        }
    }
}

TEST(BuildPatch, FollowsTheCylinderUnrolled) {
    PatchRequest request;
    request.seeds = {{1000, 0, -500}};
    request.damage_radius = 150;
    request.reach = 200;
    for (const char* name : {"cylinder.step"}) {
        const bool exact = std::string(name).ends_with("step");
        const auto patch = timed_patch(sample(name), request);
        ASSERT_TRUE(patch) << patch.error().message();
        if (exact) expect_sound(*patch);
        const auto centre = patch->nearest({1000, 0, -500}).at;
        const surface::SurfaceSample start = patch->sample(centre);
        const std::vector<double> distances{150, 340};
        for (int k = 0; k < 60; ++k) {
            const double a = k * std::numbers::pi / 30;
            const auto traced =
                surface::trace_geodesic(*patch, {centre, {std::cos(a), std::sin(a), 0}}, distances);
            ASSERT_EQ(traced.at.size(), 2u);
            for (int i = 0; i < 2; ++i) {
                // Unrolled: x along the axis, 500 times the angle about it.
                const auto unrolled = [](const Vec3& p) {
                    return Vec2(p.x(), 500 * std::atan2(p.y(), -p.z()));
                };
                const double d =
                    (unrolled(patch->sample(traced.at[i]).position) - unrolled(start.position))
                        .norm();
                EXPECT_NEAR(d, distances[i], exact ? 0.02 : 0.4) << name << " ray " << k;
            }
        }
    }
}

TEST(BuildPatch, KeepsTheChineAsACreaseLine) {
    PatchRequest request;
    request.seeds = {{4000, 700, 100}};
    const auto hull = sample("curlew.step");
    // The nearest vertex of the port chine to amidships.
    double best = 1e9;
    for (const auto& e : hull.cad_edges) {
        const Vec3& p = hull.vertices[e.from];
        const double d = std::abs(p.x() - 3000) + (p.y() < 100 ? 1e6 : 0) + (p.z() > 500 ? 1e6 : 0);
        if (d < best) {
            best = d;
            request.seeds[0] = p;
        }
    }
    request.damage_radius = 150;
    request.reach = 150;
    for (const auto side : {job::Side::outside, job::Side::inside}) {
        request.laid_from = side;
        request.skin = 9.0;
        const auto patch = timed_patch(hull, request);
        ASSERT_TRUE(patch) << patch.error().message();
        expect_sound(*patch);
        EXPECT_EQ(patch->crease_lines().size(), 1u);
    }
}

TEST(BuildPatch, MeshesTheTightBilgeFiner) {
    PatchRequest request;
    const auto hull = sample("sandpiper.step");
    request.seeds = {{1750, 500, 0}};
    double best = 1e9;
    for (const auto& p : hull.vertices) {
        const double d = std::abs(p.x() - 1750) + std::abs(p.y() - 500);
        if (d < best) {
            best = d;
            request.seeds[0] = p;
        }
    }
    request.damage_radius = 150;
    request.reach = 150;
    const auto patch = timed_patch(hull, request);
    ASSERT_TRUE(patch) << patch.error().message();
    expect_sound(*patch);
}

TEST(BuildPatch, ServesEverySampleJobAsCadAndAsMesh) {
    for (const char* name : {"wigley", "cone", "curlew", "curlew-half", "cylinder", "frustum",
                             "panel", "sandpiper", "sphere"}) {
        const auto job = job::read_job(std::string(TEARLINE_SAMPLES) + "/" + name + ".toml");
        ASSERT_TRUE(job) << job.error().message();
        auto hull = hull::read_hull(job->hull, job->damage.side);
        ASSERT_TRUE(hull) << hull.error().message();
        for (const bool as_mesh : {false, true}) {
            if (as_mesh) hull->cad = nullptr;
            std::cout << name << (as_mesh ? " mesh " : " cad ");
            const auto patch = timed_patch(*hull, patch_request(*job, 160.0));
            ASSERT_TRUE(patch) << name << ": " << patch.error().message();
            SCOPED_TRACE(name);
            expect_sound(*patch);
            for (const auto& line : patch->crease_lines())
                std::cout << "  crease " << line.size() << "\n";
        }
    }
}

TEST(BuildPatch, RefusesAPointOffTheHullNamingTheDistance) {
    PatchRequest request;
    request.seeds = {{0, 0, -625}};
    request.damage_radius = 100;
    request.reach = 100;
    const auto patch = build_patch(sample("sphere.step"), request);
    ASSERT_FALSE(patch);
    EXPECT_EQ(patch.error().kind, ErrorKind::bad_input);
    EXPECT_NE(patch.error().message().find("25.0 mm off"), std::string::npos)
        << patch.error().message();
}

}  // namespace
}  // namespace tearline::patch

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/hull/read_hull.h"
#include "core/patch/build_patch.h"

namespace tearline::patch {
namespace {

Result<surface::Patch> inside_patch(const std::string& name, const Vec3& centre, double radius,
                                    double skin) {
    job::HullOptions options;
    options.model = std::string(TEARLINE_SAMPLES) + "/" + name;
    const auto hull = hull::read_hull(options, job::Side::outside);
    if (!hull) return tl::unexpected(hull.error());
    PatchRequest request;
    request.seeds = {centre};
    request.damage_radius = radius;
    request.reach = radius;
    request.laid_from = job::Side::inside;
    request.skin = skin;
    return build_patch(*hull, request);
}

TEST(Skin, MovesTheSphereToTheSphereInsideIt) {
    // Closed form: radius 600 - 10, hollow as seen from inside.
    const auto patch = inside_patch("sphere.step", {0, 0, -600}, 100, 10);
    ASSERT_TRUE(patch) << patch.error().message();
    for (std::size_t t = 0; t < patch->mesh.triangle.size(); ++t) {
        const surface::SurfaceSample s = patch->sample({TriangleId(t), Vec3(0.3, 0.3, 0.4)});
        ASSERT_NEAR(s.position.norm(), 590.0, 1e-6);
        ASSERT_LT((s.normal + s.position / 590.0).norm(), 1e-6);
        ASSERT_NEAR(s.curvature_min, -1.0 / 590, 1e-9);
        const auto& v = patch->mesh.triangle[t];
        const Vec3 facing = (patch->mesh.position[v[1]] - patch->mesh.position[v[0]])
                                .cross(patch->mesh.position[v[2]] - patch->mesh.position[v[0]]);
        ASSERT_GT(facing.dot(s.normal), 0.0);
    }
}

TEST(Skin, MovesTheConeToItsParallelCone) {
    // Half-angle 15 degrees about x, radius 200 at x = 0 growing with x; 10 mm along the normal.
    const double half = 15 * std::numbers::pi / 180;
    const auto patch = inside_patch("frustum.step", {400, 0, -307.179677}, 80, 10);
    ASSERT_TRUE(patch) << patch.error().message();
    for (std::size_t t = 0; t < patch->mesh.triangle.size(); ++t) {
        const Vec3 p = patch->sample({TriangleId(t), Vec3(0.3, 0.3, 0.4)}).position;
        const double off = std::hypot(p.y(), p.z()) - (200 + p.x() * std::tan(half));
        ASSERT_NEAR(off * std::cos(half), -10.0, 1e-6);
    }
}

TEST(Skin, OfASharpChineIsEverywhereThatThick) {
    // By definition: whatever is left of the inner face lies `skin` from the model's nearest point.
    job::HullOptions options;
    options.model = std::string(TEARLINE_SAMPLES) + "/curlew.step";
    const auto hull = hull::read_hull(options, job::Side::outside);
    ASSERT_TRUE(hull);
    const Vec3 centre(1500, 978, 251);
    for (const double radius : {15.0, 50.0, 160.0})
        for (const double skin : {4.0, 9.0}) {
            PatchRequest request;
            request.seeds = {centre};
            request.damage_radius = radius;
            request.reach = radius + 70.0;
            request.skin = skin;
            request.triangles = 16000;
            request.laid_from = job::Side::inside;
            const auto inner = build_patch(*hull, request);
            EXPECT_TRUE(inner) << radius << " " << skin << ": " << inner.error().message();
            if (!inner) continue;
            request.laid_from = job::Side::outside;
            request.reach += 6.0 * skin;
            const auto outer = build_patch(*hull, request);
            ASSERT_TRUE(outer) << outer.error().message();
            double least = skin, most = skin;
            for (const Vec3& p : inner->mesh.position) {
                const double off = outer->nearest(p).distance;
                least = std::min(least, off);
                most = std::max(most, off);
            }
            EXPECT_GT(least, skin - 0.1) << radius << " " << skin;
            EXPECT_LT(most, skin + 0.1) << radius << " " << skin;
        }
}

TEST(Skin, RefusesASkinThickerThanTheRadius) {
    const auto patch = inside_patch("frustum.step", {100, 0, -226.7949192}, 60, 260);
    ASSERT_FALSE(patch);
    EXPECT_EQ(patch.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(patch.error().message().find("hull.skin"), std::string::npos)
        << patch.error().message();
}

}  // namespace
}  // namespace tearline::patch

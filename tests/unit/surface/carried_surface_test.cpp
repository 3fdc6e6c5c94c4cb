#include "core/surface/carried_surface.h"

#include <gtest/gtest.h>

#include <memory>

#include "tests/support/analytic_carriers.h"

namespace tearline::surface {
namespace {

/// One flat triangle whose corners lie on a sphere of radius 100 about the origin, off centre so
/// that no symmetry helps.
struct OneTriangle {
    SurfaceMesh mesh;
    std::shared_ptr<const Carrier> sphere = std::make_shared<test::SphereCarrier>(100.0);
    std::vector<std::array<Anchor, 3>> anchors{{Anchor{0, {0, 0}}, {0, {0, 0}}, {0, {0, 0}}}};

    OneTriangle() {
        mesh.position = {100.0 * Vec3(0.1, 0.0, 1.0).normalized(),
                         100.0 * Vec3(0.4, 0.1, 1.0).normalized(),
                         100.0 * Vec3(0.2, 0.3, 1.0).normalized()};
        mesh.triangle = {{0, 1, 2}};
    }
};

TEST(CarriedSurface, IsTheFootOfTheFlatPoint) {
    // Closed form: the foot on a sphere lies on the ray from the centre through the flat point.
    const OneTriangle one;
    const CarriedSurface outside(one.sphere, one.anchors, 1.0);
    const Vec3 w(0.2, 0.5, 0.3);
    const Vec3 flat =
        w[0] * one.mesh.position[0] + w[1] * one.mesh.position[1] + w[2] * one.mesh.position[2];
    const SurfaceSample at = outside.at(one.mesh, {TriangleId(0), w});
    EXPECT_LT((at.position - 100.0 * flat.normalized()).norm(), 1e-9);
    EXPECT_LT((at.normal - flat.normalized()).norm(), 1e-12);
    EXPECT_NEAR(at.curvature_min, 0.01, 1e-12);
    EXPECT_NEAR(at.curvature_max, 0.01, 1e-12);
}

TEST(CarriedSurface, SeenFromInsideTurnsNormalAndCurvatures) {
    // A place bent 0.01 one way and 0.004 the other bulges by -0.004 and -0.01 from inside, and
    // the lesser comes first.
    const OneTriangle one;
    const auto oval = std::make_shared<test::SphereCarrier>(100.0, 0.004);
    const Location at{TriangleId(0), Vec3(0.4, 0.4, 0.2)};
    const SurfaceSample out = CarriedSurface(oval, one.anchors, 1.0).at(one.mesh, at);
    const SurfaceSample in = CarriedSurface(oval, one.anchors, -1.0).at(one.mesh, at);
    EXPECT_EQ(in.position, out.position);
    EXPECT_EQ(in.normal, -out.normal);
    EXPECT_NEAR(out.curvature_min, 0.004, 1e-12);
    EXPECT_NEAR(out.curvature_max, 0.010, 1e-12);
    EXPECT_NEAR(in.curvature_min, -0.010, 1e-12);
    EXPECT_NEAR(in.curvature_max, -0.004, 1e-12);
}

}  // namespace
}  // namespace tearline::surface

#include "core/scan/girth.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/scanned_shapes.h"

namespace tearline::scan {
namespace {

FairSurface exact(const scanned::Shape& shape) {
    FairRequest request;
    request.middle = shape({0, 0}, 0.0);
    request.outward = shape({0, 0}, 1.0) - request.middle;
    request.reach = 300.0;
    request.spacing = 8.0;
    request.least_noise = {0.02, 4.0};
    return *fair_surface(scanned::scan_of(shape, {.spacing = 8.0}), request);
}

TEST(Girth, IsTheHelixOnACylinder) {
    // Closed form: unrolled, the way is straight.
    const auto shape = scanned::arcs(0, 1 / 500.0);
    const Vec2 from(-200, -180), to(220, 190);
    EXPECT_NEAR(girth(exact(shape), shape(from, 0.0), shape(to, 0.0)), (to - from).norm(), 0.02);
}

TEST(Girth, IsTheGreatCircleOnASphere) {
    // Closed form: R times the angle between the ends.
    constexpr double radius = 600.0;
    const auto shape = scanned::arcs(1 / radius, 1 / radius);
    const Vec3 a = shape({-230, 120}, 0.0), b = shape({200, 210}, 0.0);
    const double angle = 2.0 * std::asin(0.5 * (b - a).norm() / radius);
    EXPECT_NEAR(girth(exact(shape), a, b), radius * angle, 0.02);
}

}  // namespace
}  // namespace tearline::scan

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "tests/support/planned.h"

/// Whole plans on cylinder and cone, from STEP and from STL, against their development (closed
/// form: SOURCES.md section 6, "Cylinder and cone: zero strain"; bars: DEFINITIONS.md).
namespace tearline::developable_plans_test {
namespace {

using std::numbers::pi;

/// A developable hull about the x axis with a disc at its lowest line: all of its geometry.
struct Developable {
    std::string name;
    std::function<Vec2(const Vec3&)> develop;  ///< base surface -> plane, the middle at 0, bow +x
    std::function<Vec2(const Vec2&, double)> to_base;  ///< flat at depth -> the same plane
    std::function<Vec2(const Vec2&, double)> to_flat;  ///< and back
};

/// Angle of a point about the x axis from straight down, towards port.
double angle(const Vec3& p) {
    return std::atan2(p.y(), -p.z());
}

/// sample-models/cylinder: radius 500. From below, bow to the right, starboard is up.
Developable cylinder() {
    const double R = 500.0;
    return {"cylinder", [=](const Vec3& p) { return Vec2(p.x() - 1000.0, -R * angle(p)); },
            [=](const Vec2& q, double d) { return Vec2(q.x(), q.y() * R / (R - d)); },
            [=](const Vec2& q, double d) { return Vec2(q.x(), q.y() * (R - d) / R); }};
}

/// A cone by its half-angle, the side its apex lies on (+1: towards the bow), the side it is laid
/// from (+1: outside) and the slant distance of the middle from the apex of the base cone.
Developable cone_about_x(const std::string& name, double half, int apex, int laid, double middle) {
    // At depth the parallel cone's points lie nearer to (outside) or farther from its own apex.
    const auto moved = [=](double slant, double d) { return slant - laid * d / std::tan(half); };
    const auto polar = [=](double slant, double turn, double from) {
        return Vec2(apex * (from - slant * std::cos(turn)), -laid * slant * std::sin(turn));
    };
    const auto from_polar = [=](const Vec2& q, double from) {
        const double along = from - apex * q.x(), across = -laid * q.y();
        return Vec2(std::hypot(along, across), std::atan2(across, along));
    };
    return {name,
            [=](const Vec3& p) {
                const double slant = std::hypot(p.y(), p.z()) / std::sin(half);
                return polar(slant, angle(p) * std::sin(half), middle);
            },
            [=](const Vec2& q, double d) {
                const Vec2 s = from_polar(q, moved(middle, d));
                return polar(s.x() + middle - moved(middle, d), s.y(), middle);
            },
            [=](const Vec2& q, double d) {
                const Vec2 s = from_polar(q, middle);
                return polar(moved(s.x(), d), s.y(), moved(middle, d));
            }};
}

/// sample-models/cone: half-angle 20 degrees, 400 mm below the axis at the middle, from outside.
Developable cone() {
    const double half = 20.0 * pi / 180.0;
    return cone_about_x("cone", half, +1, +1, 400.0 / std::sin(half));
}

/// sample-models/frustum: half-angle 15 degrees, the base 10 mm inside the model, laid from inside.
Developable frustum() {
    const double half = 15.0 * pi / 180.0;
    const double radius = 200.0 + 400.0 * std::tan(half) - 10.0 * std::cos(half);
    return cone_about_x("frustum", half, -1, -1, radius / std::sin(half));
}

/// The analytic edge of a ply, finely.
Loop2 true_edge(const Developable& shape, double radius, double depth) {
    Loop2 edge;
    for (int i = 0; i < 7200; ++i) {
        const double a = 2 * pi * i / 7200;
        edge.push_back(shape.to_flat(radius * Vec2(std::cos(a), std::sin(a)), depth));
    }
    return edge;
}

struct Bars {
    double edge;     ///< [mm] of the flat net line
    double on_base;  ///< [mm] of the net line's geodesic distance
    double strain;   ///< [-]
    double area;     ///< [-]
};

void expect_exact(const Developable& shape, const Plan& plan, const Bars& bars) {
    for (const templates::LaidPly& ply : plan.plies) {
        SCOPED_TRACE(shape.name + " ply " + std::to_string(ply.number));
        const double radius = test::disc_radius(plan, ply);
        ASSERT_EQ(ply.pieces.size(), 1u);
        const Loop2 net = test::bow_to_the_right(ply.pieces[0].outline.net.outer);
        double edge = 0.0, turned = 0.0;
        for (const Vec2& p : test::with_middles(net))
            edge = std::max(edge, std::abs(shape.to_base(p, ply.lay_depth_mm).norm() - radius));
        for (std::size_t i = 0; i < net.size(); ++i) {
            const Vec2 &a = net[i], &b = net[(i + 1) % net.size()];
            turned += std::atan2(cross2(a, b), a.dot(b));
        }
        EXPECT_LE(edge, bars.edge);
        EXPECT_NEAR(turned, 2 * pi, 1e-9) << "the edge goes once round the middle";
        double off = 0.0;
        for (const Vec3& p : test::with_middles(ply.outlines_3d.at(0).outer))
            off = std::max(off, std::abs(shape.develop(p).norm() - radius));
        EXPECT_LE(off, bars.on_base);
        EXPECT_LE(ply.pieces[0].piece.strain_rms, bars.strain);
        EXPECT_LE(ply.pieces[0].piece.strain_max, bars.strain);
        const double area = signed_area(true_edge(shape, radius, ply.lay_depth_mm));
        EXPECT_NEAR(ply.surface_area_mm2 / area, 1.0, bars.area);
        EXPECT_NEAR(signed_area(net) / area, 1.0, bars.area);
    }
}

constexpr Bars exact{0.02, 0.1, 1e-4, 5e-4};

TEST(CylinderPlanReference, FromStepIsTheUnrolling) {
    const Plan plan = test::planned(test::sample_text("cylinder"));
    ASSERT_EQ(plan.plies.size(), 8u);  // six fill the depth, two cover it
    expect_exact(cylinder(), plan, exact);
}

TEST(ConePlanReference, FromStepIsTheDevelopment) {
    const Plan plan = test::planned(test::sample_text("cone"));
    ASSERT_EQ(plan.plies.size(), 8u);  // six fill the depth, two cover it
    expect_exact(cone(), plan, exact);
}

TEST(ConePlanReference, FromInsideASkinIsTheParallelCone) {
    const Plan plan = test::planned(test::sample_text("frustum"));
    ASSERT_EQ(plan.plies.size(), 8u);  // six fill the depth, two cover it
    expect_exact(frustum(), plan, exact);
}

TEST(CylinderPlanReference, SixHundredMillimetresOfPlyAreExact) {
    // The bar itself: 0.02 mm over 600 mm. Radius 225 of damage and six steps of 12.6 mm.
    const Plan plan = test::planned(
        test::with(test::sample_text("cylinder"), "radius = \"150 mm\"", "radius = \"225 mm\""));
    EXPECT_GT(2.0 * test::disc_radius(plan, plan.plies.back()), 600.0);
    expect_exact(cylinder(), plan, exact);
}

// From facets of 1 mm deflection, normals rebuilt: net lines within 0.5 mm.
constexpr Bars from_facets{0.5, 0.5, 1e-4, 5e-4};

TEST(CylinderPlanReference, FromStlIsTheUnrolling) {
    expect_exact(cylinder(),
                 test::planned(test::on_triangles(test::sample_text("cylinder"), "cylinder")),
                 from_facets);
}

TEST(ConePlanReference, FromStlIsTheDevelopment) {
    expect_exact(cone(), test::planned(test::on_triangles(test::sample_text("cone"), "cone")),
                 from_facets);
}

TEST(ConePlanReference, FromInsideASkinOfStlIsTheParallelCone) {
    expect_exact(frustum(),
                 test::planned(test::on_triangles(test::sample_text("frustum"), "frustum")),
                 from_facets);
}

}  // namespace
}  // namespace tearline::developable_plans_test

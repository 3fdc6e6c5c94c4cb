#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/planned.h"

/// Largest ply first: edges, depths and areas of whole plans by other routes.
namespace tearline::largest_first_test {
namespace {

using std::numbers::pi;

/// DEFINITIONS.md, Edges: e_k = ratio (D - H_(k-1)); the mid-plane over the floor at D - H_(k-1) -
/// t/2.
void expect_levels(const Plan& plan) {
    const double depth = plan.job.damage.depth, ratio = plan.job.scarf.ratio;
    double below = 0.0;
    for (const templates::LaidPly& ply : plan.plies) {
        if (!ply.cover) {
            EXPECT_NEAR(ply.edge_offset_mm, ratio * (depth - below), 1e-6);
        }
        EXPECT_NEAR(ply.lay_depth_mm, depth - below - 0.5 * ply.thickness_mm, 1e-6);
        below += ply.thickness_mm;
    }
}

std::string largest_first(const std::string& name) {
    return test::with(test::sample_text(name), "fill = \"mat 450\"",
                      "fill = \"mat 450\"\norder = \"largest first\"");
}

/// Area of a ply that lies in a dish on the cylinder of radius 500, its mid-plane z below the
/// base: by quadrature of the first fundamental form in polar coordinates about the middle.
double area_in_the_dish(const Plan& plan, const templates::LaidPly& ply) {
    const double R = 500.0, ratio = plan.job.scarf.ratio;
    const double floor = *plan.job.damage.radius, edge = test::disc_radius(plan, ply);
    const auto integrand = [&](double r, double angle) {
        const double up = std::max(0.0, r - floor) / ratio;
        const double z = ply.lay_depth_mm - up, slope = r > floor ? -1.0 / ratio : 0.0;
        const double zx = slope * std::cos(angle), zy = slope * std::sin(angle);
        const double shrink = (R - z) / R;
        return r * std::sqrt((1.0 + zx * zx) * (shrink * shrink + zy * zy) - zx * zx * zy * zy);
    };
    constexpr int around = 256, out = 2000;
    double sum = 0.0;
    for (int i = 0; i < around; ++i)
        for (const auto& [from, to] : {std::pair{0.0, floor}, std::pair{floor, edge}})
            for (int k = 0; k < out / 2; ++k) {
                const double r = from + (to - from) * (k + 0.5) / (out / 2);
                sum += integrand(r, 2 * pi * (i + 0.5) / around) * (to - from) / (out / 2);
            }
    return sum * 2 * pi / around;
}

TEST(LargestFirstReference, LiesInTheDishOfACylinder) {
    const Plan plan = test::planned(largest_first("cylinder"));
    expect_levels(plan);
    for (const templates::LaidPly& ply : plan.plies) {
        if (ply.cover) continue;
        EXPECT_NEAR(ply.surface_area_mm2 / area_in_the_dish(plan, ply), 1.0, 5e-4) << ply.number;
        // A cone of slope 1:12 does not unroll round its kink: a small strain, and not none.
        EXPECT_LT(ply.pieces.at(0).piece.strain_max, 0.01);
    }
}

/// The Wigley hull y = 200 (1 - (x/2000)^2) (1 - (z/250)^2) as a graph over (x, z).
struct Wigley {
    static double half_breadth(const Vec2& q) {
        return 200.0 * (1.0 - q.x() * q.x() / 4e6) * (1.0 - q.y() * q.y() / 62500.0);
    }
    static Vec3 at(const Vec2& q) { return {q.x(), half_breadth(q), q.y()}; }
    static Vec2 slope(const Vec2& q) {
        return {-200.0 * q.x() / 2e6 * (1.0 - q.y() * q.y() / 62500.0),
                -200.0 * q.y() / 31250.0 * (1.0 - q.x() * q.x() / 4e6)};
    }
    static Vec3 outward(const Vec2& q) {
        const Vec2 s = slope(q);
        return Vec3(-s.x(), 1.0, -s.y()).normalized();
    }
    /// Along a geodesic the second derivative of (x, z), that of a graph: -grad f f'' / (1 +
    /// |grad|^2).
    static Vec2 bend(const Vec2& q, const Vec2& way) {
        const double fxx = -200.0 / 2e6 * (1.0 - q.y() * q.y() / 62500.0);
        const double fzz = -200.0 / 31250.0 * (1.0 - q.x() * q.x() / 4e6);
        const double fxz = 200.0 * q.x() / 2e6 * q.y() / 31250.0;
        const Vec2 s = slope(q);
        const double along =
            fxx * way.x() * way.x() + 2.0 * fxz * way.x() * way.y() + fzz * way.y() * way.y();
        return -along / (1.0 + s.squaredNorm()) * s;
    }
};

/// Places on a geodesic from a place of the Wigley hull, `steps` to a length, by Runge and Kutta's
/// fourth order.
std::vector<Vec2> geodesic(Vec2 q, const Vec2& towards, double length, int steps) {
    const double rise = Wigley::slope(q).dot(towards);
    Vec2 way = towards / std::sqrt(towards.squaredNorm() + rise * rise);
    const double h = length / steps;
    std::vector<Vec2> out{q};
    for (int i = 0; i < steps; ++i) {
        const Vec2 a1 = Wigley::bend(q, way), w2 = way + 0.5 * h * a1;
        const Vec2 a2 = Wigley::bend(q + 0.5 * h * way, w2), w3 = way + 0.5 * h * a2;
        const Vec2 a3 = Wigley::bend(q + 0.5 * h * w2, w3), w4 = way + h * a3;
        const Vec2 a4 = Wigley::bend(q + h * w3, w4);
        q += h / 6.0 * (way + 2.0 * w2 + 2.0 * w3 + w4);
        way += h / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4);
        out.push_back(q);
    }
    return out;
}

/// Area of a ply in the dish of a disc on the Wigley hull: its mid-plane set off along the normal
/// from places of geodesics, as small quadrilaterals.
double area_on_wigley(const Plan& plan, const templates::LaidPly& ply, const Vec2& middle,
                      double laid) {
    const double floor = *plan.job.damage.radius, edge = test::disc_radius(plan, ply);
    constexpr int around = 720, steps = 400;
    const auto ray = [&](int i) {
        const double angle = 2 * pi * i / around;
        const auto places = geodesic(middle, {std::cos(angle), std::sin(angle)}, edge, steps);
        std::vector<Vec3> out;
        for (int k = 0; k <= steps; ++k) {
            const double up = std::max(0.0, edge * k / steps - floor) / plan.job.scarf.ratio;
            const Vec2& q = places[static_cast<std::size_t>(k)];
            out.emplace_back(Wigley::at(q) - laid * (ply.lay_depth_mm - up) * Wigley::outward(q));
        }
        return out;
    };
    double sum = 0.0;
    std::vector<Vec3> before = ray(0);
    for (int i = 1; i <= around; ++i) {
        const std::vector<Vec3> next = ray(i);
        for (std::size_t k = 0; k < steps; ++k)
            sum += 0.5 * (next[k + 1] - before[k]).cross(before[k + 1] - next[k]).norm();
        before = next;
    }
    return sum;
}

TEST(LargestFirstReference, AreasInADishOfTheWigleyHullAreRightToAThousandth) {
    // A second route: the hull's own formula, geodesics by integration, the offset by its normal.
    for (const bool inside : {false, true})
        for (const Vec2& middle : {Vec2(0.0, -135.0), Vec2(-600.0, -150.0)}) {
            const Vec3 at = Wigley::at(middle);
            const std::string place = "[" + std::to_string(at.x()) + ", " + std::to_string(at.y()) +
                                      ", " + std::to_string(at.z()) + "]";
            std::string text = test::with(test::sample_text("wigley"), "fill = \"mat 300\"",
                                          "fill = \"mat 300\"\norder = \"largest first\"");
            text = test::with(text, "[0.0, 168.0, -100.0]", place);
            text =
                test::with(text, "depth = \"2.1 mm\"",
                           inside ? "depth = \"5.6 mm\"\nside = \"inside\"" : "depth = \"5.6 mm\"");
            if (inside) text = test::with(text, "[hull]\n", "[hull]\nsurface = \"inside\"\n");
            const Plan plan = test::planned(text);
            expect_levels(plan);
            for (const templates::LaidPly& ply : plan.plies)
                if (!ply.cover) {
                    EXPECT_NEAR(ply.surface_area_mm2 /
                                    area_on_wigley(plan, ply, middle, inside ? -1.0 : 1.0),
                                1.0, 1e-3)
                        << ply.number << " at " << place << (inside ? " inside" : "");
                }
        }
}

class LargestFirst : public testing::TestWithParam<std::tuple<const char*, const char*>> {};

TEST_P(LargestFirst, IsPlannedOnRealHullsFromBothSides) {
    const auto& [name, side] = GetParam();
    std::string text = largest_first(name);
    text = text.substr(0, text.find("depth =")) + "side = \"" + side + "\"\n" +
           text.substr(text.find("depth ="));
    if (std::string(name) == "curlew") text = test::with(text, "side = \"outside\"\n\n", "\n");
    const Plan plan = test::planned(text);
    expect_levels(plan);
    double before = 1e300;
    for (const templates::LaidPly& ply : plan.plies) {
        ASSERT_EQ(ply.pieces.size(), 1u);
        // Laid in the order of size; its surface is not far from what its edge encloses flat.
        if (!ply.cover) {
            EXPECT_LT(ply.surface_area_mm2, before);
            before = ply.surface_area_mm2;
        }
        const double net = signed_area(ply.pieces[0].outline.net.outer);
        EXPECT_NEAR(net / ply.surface_area_mm2, 1.0, 0.01);
    }
}

INSTANTIATE_TEST_SUITE_P(Hulls, LargestFirst,
                         testing::Combine(testing::Values("curlew", "sandpiper"),
                                          testing::Values("outside", "inside")));

}  // namespace
}  // namespace tearline::largest_first_test

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/cad_models.h"
#include "tests/support/loops.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"

/// Largest ply first: edges, depths and areas of whole plans by other routes.
namespace tearline {
namespace {

constexpr double pi = std::numbers::pi;

/// DEFINITIONS.md, Edges: e_k = ratio (D - H_(k-1)); the mid-plane over the floor at D - H_(k-1) -
/// t/2.
void expect_levels(const Plan& plan) {
    const double depth = plan.job.damage.depth, ratio = plan.job.scarf.ratio;
    double below = 0.0;
    for (const PlannedPly& ply : plan.plies) {
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
double area_in_the_dish(const Plan& plan, const PlannedPly& ply) {
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
    for (const PlannedPly& ply : plan.plies) {
        if (ply.cover) continue;
        EXPECT_NEAR(ply.surface_area_mm2 / area_in_the_dish(plan, ply), 1.0, 5e-4) << ply.number;
        // A cone of slope 1:12 does not unroll round its kink: a small strain, and not none.
        EXPECT_LT(ply.pieces.at(0).piece.strain_max, 0.01);
    }
}

TEST(LargestFirstReference, LiesInTheDishOfASphere) {
    // Seen from the middle of a disc on a sphere of radius R, a ply z below the base at the
    // distance s runs over rings of (R - z) sin(s/R) with steps of sqrt((1 - z/R)^2 + z'^2): one
    // integral.
    const double R = 900.0, floor = 150.0, deep = 6 * 1.05078125, ratio = 12.0;
    const test::Folder folder;
    const auto stem = folder.write("sphere", "");
    test::write_sphere(R, stem);
    const Plan plan = test::planned(
        "[hull]\nmodel = \"sphere.step\"\nunit = \"mm\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
        "[damage]\ncentre = [0, 0, -900]\nradius = 150\ndepth = 6.3046875\n[scarf]\nratio = "
        "12\n[layup]\nfill = \"mat 450\"\norder = \"largest first\"\ncover = []\n",
        stem.parent_path().string());
    ASSERT_EQ(plan.plies.size(), 6u);
    for (std::size_t k = 0; k < 6; ++k) {
        const double below = static_cast<double>(k) * 1.05078125;
        const double edge = floor + ratio * (deep - below);
        const auto piece = [&](double from, double to) {
            constexpr int steps = 4000;
            double sum = 0.0;
            for (int i = 0; i < steps; ++i) {
                const double s = from + (to - from) * (i + 0.5) / steps;
                const double z = deep - std::max(0.0, s - floor) / ratio - below - 0.5 * 1.05078125;
                const double slope = s > floor ? 1.0 / ratio : 0.0;
                sum += 2 * pi * (R - z) * std::sin(s / R) * std::hypot(1.0 - z / R, slope) *
                       (to - from) / steps;
            }
            return sum;
        };
        const double area = piece(0.0, floor) + piece(floor, edge);
        EXPECT_NEAR(plan.plies[k].surface_area_mm2 / area, 1.0, 5e-4) << k;
        EXPECT_NEAR(plan.plies[k].edge_offset_mm, edge - floor, 1e-6);
    }
}

/// DEFINITIONS.md, Lay surface: the dish's own depth less what lies under the mid-plane, the dish
/// rising from the damage outline at the ratio. Every vertex of a ply is measured from its foot on
/// the base surface, and that from the outline; over the few centimetres of a scarf the straight
/// way is the geodesic to a hundredth of a millimetre.
void expect_in_the_dish(const Plan& plan, const PlannedPly& ply, double below) {
    const double deep = plan.job.damage.depth, ratio = plan.job.scarf.ratio;
    const pieces::Piece& piece = ply.pieces.at(0).piece;
    double facets = 0.0;
    for (const auto& t : piece.lay.triangle) {
        const auto& p = piece.lay.position;
        facets += 0.5 * (p[t[1]] - p[t[0]]).cross(p[t[2]] - p[t[0]]).norm();
    }
    // The facets of a curved surface are small by their sagittas (under 0.06 % at this fineness).
    EXPECT_NEAR(facets / ply.surface_area_mm2, 1.0, 1e-3);
    int outside = 0;
    for (std::size_t v = 0; v < piece.base.size(); ++v) {
        const double depth = (piece.lay.position[v] - piece.base[v]).norm();
        const double away = test::distance_to(plan.damage.outer, piece.base[v]);
        const double over_floor = deep - below - 0.5 * ply.thickness_mm;
        const double up = away / ratio;
        // Inside the outline the floor, outside it the scarf.
        const bool floor = std::abs(depth - std::abs(over_floor)) < 0.02;
        const bool scarf = std::abs(depth - std::abs(over_floor - up)) < 0.02;
        EXPECT_TRUE(floor || scarf) << depth << " at " << away << " mm from the outline";
        if (!floor) ++outside;
    }
    if (below == 0.0) {
        EXPECT_GT(outside, 100);
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
    double before = 1e300, below = 0.0;
    for (const PlannedPly& ply : plan.plies) {
        ASSERT_EQ(ply.pieces.size(), 1u);
        if (!ply.cover) expect_in_the_dish(plan, ply, below);
        below += ply.thickness_mm;
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
}  // namespace tearline

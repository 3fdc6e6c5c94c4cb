#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/surface/curved_area.h"
#include "tests/support/cad_models.h"
#include "tests/support/loops.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"
#include "tests/support/sphere_net.h"

/// Whole plans in woven and biaxial cloth against closed forms (SOURCES.md section 6) and one
/// another.
namespace tearline::woven_plans_test {
namespace {

constexpr double degrees = 180.0 / std::numbers::pi;

/// One ply of cloth 1 mm thick whose mid-plane is the base surface itself, its edge `radius` from
/// the lowest point of a sphere.
std::string cloth_on_a_sphere(double sphere, double radius, const std::string& kind) {
    return "[hull]\nmodel = \"sphere.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
           "[damage]\ncentre = [0, 0, " +
           std::to_string(-sphere) + "]\nradius = " + std::to_string(radius - 6.0) +
           "\ndepth = 0.5\n[scarf]\nratio = 12\n"
           "[layup]\nstack = [\"cloth\"]\ncover = []\npress_first = [0, 0, " +
           std::to_string(-sphere) + "]\n[[fabric]]\nname = \"cloth\"\nkind = \"" + kind +
           "\"\nweight = \"600 g/m2\"\nthickness = 1.0\nroll_width = 4000\n";
}

Plan sphere_plan(double sphere, double radius, const std::string& kind = "woven") {
    const test::Folder folder;
    const auto stem = folder.write("sphere", "");
    test::write_sphere(sphere, stem, radius + 70.0);
    return test::planned(cloth_on_a_sphere(sphere, radius, kind), stem.parent_path().string());
}

const templates::LaidPiece& only_piece(const Plan& plan, std::size_t ply = 0) {
    EXPECT_EQ(plan.plies.at(ply).pieces.size(), 1u);
    return plan.plies[ply].pieces.at(0);
}

/// What shear_max must be of a cap: the rim's largest shear less what the mean over the half disc
/// of 10 mm at the rim takes off. Its centroid lies 4 r / 3 pi = 2.12 mm in, and shear grows with
/// the square of the radius.
double averaged(double rim_shear, double radius) {
    return rim_shear * (1.0 - 2.0 * 2.12 / radius);
}

TEST(WovenPlanReference, ShearAndTemplateOfACapAreTheClosedForm) {
    // Node u = v = 0.5 R lies at (0.474383, 0.474383, 0.741567) R: a cap that ends there shears by
    // 14.274425 degrees at the ends of its diagonals (s = 0.25), and its template has that node at
    // (0.5 R, 0.5 R) and its own rim on the axes.
    const double sphere = 1000.0, radius = sphere * std::acos(0.741567);
    const Plan plan = sphere_plan(sphere, radius);
    EXPECT_NEAR(test::disc_radius(plan, plan.plies.at(0)), radius, 1e-5);
    EXPECT_NEAR(plan.plies[0].lay_depth_mm, 0.0, 1e-9);
    const templates::LaidPiece& piece = only_piece(plan);
    EXPECT_NEAR(*piece.piece.shear_max, averaged(14.274425, radius), 0.05);
    const auto& outline = piece.outline.parting_region().outer;
    for (const double x : {-1.0, 1.0})
        for (const double y : {-1.0, 1.0})
            EXPECT_LE(test::distance_to(outline, Vec2(0.5 * sphere * Vec2(x, y))), 0.1);
    for (const Vec2& end : {Vec2(radius, 0), Vec2(-radius, 0), Vec2(0, radius), Vec2(0, -radius)})
        EXPECT_LE(test::distance_to(outline, end), 0.1);
}

TEST(WovenPlanReference, ShearOfASmallerCapIsTheClosedForm) {
    // s = 0.09: 5.154301 degrees at u = v = 0.3 R, its distance from the pole by the exact net.
    const double sphere = 600.0;
    const test::SphereNet net(0.0025, 160);
    const double radius = sphere * std::acos(net.at(0.3, 0.3).z());
    const Plan plan = sphere_plan(sphere, radius);
    EXPECT_NEAR(*only_piece(plan).piece.shear_max, averaged(5.154301, radius), 0.05);
}

TEST(WovenPlanReference, TemplateMappedForwardAgainLandsOnTheOutline) {
    // Bar of 0.1 mm. Every point of the cut line, laid on the sphere by the exact net, is as far
    // from the pole as the ply's edge.
    const double sphere = 600.0, radius = 300.0;
    const Plan plan = sphere_plan(sphere, radius);
    const test::SphereNet net(0.0025, 260);
    const auto& cut = only_piece(plan).outline.cut;
    ASSERT_TRUE(cut);
    for (const Vec2& p : test::with_middles(cut->outer))
        EXPECT_NEAR(sphere * std::acos(net.at(p.x() / sphere, p.y() / sphere).z()), radius, 0.1);
}

/// The Sandpiper's bilge in one cloth, laid at an angle.
std::string bilge_job(const std::string& kind, double axis) {
    std::string text =
        test::with(test::sample_text("sandpiper"), "fill = \"mat 450\"",
                   "stack = [{fabric = \"cloth\", axis = " + std::to_string(axis) +
                       "}, {fabric = \"cloth\", axis = " + std::to_string(axis - 20.0) + "}]");
    text = test::with(text, "cover = [\"mat 300\", \"mat 300\"]", "cover = []");
    return text + "\n[[fabric]]\nname = \"cloth\"\nkind = \"" + kind +
           "\"\nweight = \"800 g/m2\"\nthickness = 2.1\nshear_limit = 60\n";
}

TEST(BiaxialPlanReference, IsTheWovenNetTurnedByFortyFiveDegrees) {
    // Yarns at +-45 of the roll's length: the same cloth on the hull, its roll turned.
    const Plan biaxial = test::planned(bilge_job("biaxial", 10.0));
    const Plan woven = test::planned(bilge_job("woven", 55.0));
    ASSERT_EQ(biaxial.plies.size(), woven.plies.size());
    for (std::size_t k = 0; k < woven.plies.size(); ++k) {
        const templates::LaidPiece &a = only_piece(biaxial, k), &b = only_piece(woven, k);
        EXPECT_NEAR(*a.piece.shear_max, *b.piece.shear_max, 0.01);
        EXPECT_GT(*a.piece.shear_max, 1.0) << "a bilge that bends one way only tells nothing";
        EXPECT_LE(test::apart(a.outline.cut->outer, b.outline.cut->outer), 0.02);
        EXPECT_NEAR(b.outline.axis_degrees - a.outline.axis_degrees, 45.0, 0.01);
    }
}

/// Cloth that covers a piece's lay surface: a cell sheared by f covers cos f of itself.
double cloth_needed(const pieces::Piece& piece) {
    double cloth = 0.0;
    for (std::size_t t = 0; t < piece.lay.triangle.size(); ++t) {
        surface::SurfaceMesh one;
        one.edge_length = {piece.lay.edge_length[t]};
        one.triangle = {{0, 1, 2}};
        one.position.resize(3);
        cloth += surface::curved_area(one) / std::cos(piece.shear_degrees[t] / degrees);
    }
    return cloth;
}

std::string chine_job(double axis) {
    return test::with(test::sample_text("curlew"), "fill = \"mat 450\"",
                      "fill = {fabric = \"roving 600\", axis = " + std::to_string(axis) + "}");
}

TEST(WovenPlanReference, ClothAcrossAHardChineIsItsOwnArea) {
    for (const double axis : {0.0, 45.0}) {
        const Plan plan = test::planned(chine_job(axis));
        int woven = 0;
        for (const templates::LaidPly& ply : plan.plies) {
            if (ply.kind != job::FabricKind::woven) continue;
            ++woven;
            double cloth = 0.0, flat = 0.0;
            for (const templates::LaidPiece& piece : ply.pieces) {
                cloth += cloth_needed(piece.piece);
                flat += signed_area(piece.outline.net.outer);
            }
            EXPECT_NEAR(flat / cloth, 1.0, 5e-4) << "ply " << ply.number << " at " << axis;
            EXPECT_GE(flat / ply.surface_area_mm2, 1.0 - 5e-4);
        }
        EXPECT_GT(woven, 5);
    }
}

TEST(WovenPlanReference, OnAScanOfTheSphereIsThatOfItsFaces) {
    std::string text =
        test::with(test::sample_text("sphere"), "fill = \"mat 450\"", "fill = \"roving 600\"");
    const Plan exact = test::planned(text);
    const Plan scan = test::planned(test::on_triangles(text, "sphere"));
    ASSERT_EQ(exact.plies.size(), scan.plies.size());
    for (std::size_t k = 0; k < exact.plies.size(); ++k) {
        const templates::LaidPiece &a = only_piece(exact, k), &b = only_piece(scan, k);
        // Bars of net lines on 1 mm facets, and of shear.
        EXPECT_LE(test::apart(a.outline.net.outer, b.outline.net.outer), 0.5) << k;
        EXPECT_NEAR(*a.piece.shear_max, *b.piece.shear_max, 0.05) << k;
    }
}

}  // namespace
}  // namespace tearline::woven_plans_test

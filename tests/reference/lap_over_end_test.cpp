#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/plane/nearest_on_line.h"
#include "tests/support/cad_models.h"
#include "tests/support/lap_shapes.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"

/// Whole plans of cloth that goes over the hull's end against closed forms (DEFINITIONS.md, End of
/// the hull).
namespace tearline::lap_over_end_test {
namespace {

using std::numbers::pi;
using test::beyond;
using test::chord;
using test::fold;
using test::segment;
// Bars: areas within 0.05 % (STEP); a line within 0.1 mm.
constexpr double area_bar = 5e-4, line_bar = 0.1;

std::string lapped(const std::string& model, const std::string& damage,
                   const std::string& fabrics = "", const std::string& ply = "mat 450") {
    return "[hull]\nmodel = \"" + model +
           "\"\nbow = [0, 1, 0]\nup = [0, 0, 1]\noutward = \"as modelled\"\nskin = \"24 mm\"\n"
           "mirror = false\n[damage]\nat_end = \"lap\"\ndepth = 4\n" +
           damage + "\n[layup]\nstack = [\"" + ply + "\", \"" + ply + "\", \"" + ply + "\", \"" +
           ply + "\"]\ncover = [\"mat 300\"]\n" + fabrics;
}

/// A flat plate, its face up, 800 mm square.
Plan on_plate(const test::Folder& folder, const std::vector<Vec3>& holes, const std::string& job) {
    const auto stem = folder.write("plate", "");
    test::write_plate(400.0, holes, stem);
    return test::planned(job, stem.parent_path().string());
}

TEST(LapOverEnd, OfAStraightEdgeIsTheGirthOfTheBendAndTheLapPlyByPly) {
    const test::Folder folder;
    for (const double degrees : {90.0, 180.0, 35.0}) {
        const Plan plan =
            on_plate(folder, {},
                     lapped("plate.step", "centre = [370, 0, 0]\nradius = 60\nedge_turn = " +
                                              std::to_string(degrees)));
        const double turn = degrees * pi / 180.0;
        // Depth at the end and the mat's least radius of 8 mm.
        const double radius = 4.0 + 8.0;
        ASSERT_TRUE(plan.place.lap);
        EXPECT_NEAR(plan.place.lap->radius_mm, radius, 1e-6);
        EXPECT_NEAR(plan.place.lap->ground_radius_mm, 8.0, 1e-6);
        for (const templates::LaidPly& ply : plan.plies) {
            const double over = 50.0 + 25.0 * (ply.number - 1);
            EXPECT_NEAR(ply.lap_mm, over, 1e-9);
            // Height of the mid-plane over the finished face, above the floor at the fold's middle.
            const double girth = (radius - ply.lay_depth_mm) * turn;
            ASSERT_EQ(ply.pieces.size(), 1u);
            const templates::LaidPiece& piece = ply.pieces[0];
            const auto& bend = fold(piece, true).line;
            const auto& bend_ends = fold(piece, false).line;
            EXPECT_NEAR(plane::distance_to_line(bend_ends, 0.5 * (bend.front() + bend.back())),
                        girth, line_bar);
            EXPECT_NEAR(beyond(piece, bend), girth + over, line_bar) << ply.number;
            const double wide = chord(60.0 + ply.edge_offset_mm, 30.0);
            EXPECT_NEAR((bend.front() - bend.back()).norm(), wide, line_bar) << ply.number;
            if (ply.cover) continue;  // its depth changes along the scarf
            EXPECT_NEAR(ply.surface_area_mm2 /
                            (segment(60.0 + ply.edge_offset_mm, 30.0) + wide * (girth + over)),
                        1.0, area_bar)
                << ply.number;
            EXPECT_LT(piece.piece.strain_max, 1e-4) << "a plate's edge is developable";
        }
        // The far face is ground over the longest lap and its torn band of 20 mm, and it is primed.
        EXPECT_NEAR(plan.place.lap->ground_over_mm, 50.0 + 4 * 25.0 + 20.0, 1e-9);
        const double footprint = 60.0 + plan.plies.back().edge_offset_mm + 20.0;
        EXPECT_NEAR(plan.place.areas.lap_mm2 /
                        (chord(footprint, 30.0) * (radius * turn + plan.place.lap->ground_over_mm)),
                    1.0, area_bar);
        EXPECT_NEAR(plan.quantities.totals.ground_area_m2,
                    1e-6 * (plan.place.areas.scarf_mm2 + plan.place.areas.lap_mm2), 1e-12);
    }
}

TEST(LapOverEnd, HullSideOfEachPlyIsThatOfACutOne) {
    const test::Folder folder;
    const std::string job = lapped("plate.step", "centre = [370, 0, 0]\nradius = 60");
    const Plan over = on_plate(folder, {}, job);
    const Plan cut = on_plate(folder, {}, test::with(job, "at_end = \"lap\"", "at_end = \"cut\""));
    ASSERT_EQ(over.plies.size(), cut.plies.size());
    for (std::size_t k = 0; k < over.plies.size(); ++k)
        EXPECT_EQ(over.plies[k].outlines_3d[0].outer, cut.plies[k].outlines_3d[0].outer);
    EXPECT_EQ(over.place.areas.footprint_mm2, cut.place.areas.footprint_mm2);
}

TEST(LapOverEnd, OfAStraightEdgeIsDevelopableWhateverTheCloth) {
    const test::Folder folder;
    const double turn = 0.5 * pi;
    // Closed form. A ply that lies level is rolled: no strain, no shear. One that follows the
    // dish's wall comes to the end 1/12 higher for each mm along it, and through the bend to a flat
    // face: its girth changes along the end by turn / 24, a shear of that, and half of it as
    // strain.
    const double lean = turn / 24.0;
    for (const char* layup :
         {"fill = [\"cloth 300\", \"mat 300\"]",
          "stack = [\"mat 450\", \"biaxial 600\", \"biaxial 600\", \"biaxial 600\"]\n"
          "cover = [\"mat 300\", \"cloth 200\"]",
          "fill = [\"mat 450\", \"biaxial 800\", \"cloth 300\"]\norder = \"largest first\""}) {
        const std::string job = lapped("plate.step", "centre = [330, 0, 0]\nradius = 60");
        const Plan plan = on_plate(folder, {}, job.substr(0, job.find("stack =")) + layup + "\n");
        std::size_t lapped_plies = 0;
        for (const templates::LaidPly& ply : plan.plies) {
            const bool level =
                !ply.cover && std::string(layup).find("largest") == std::string::npos;
            EXPECT_EQ(ply.pieces.size(), 1u) << layup << ply.number;
            if (ply.lap_mm > 0.0) ++lapped_plies;
            for (const templates::LaidPiece& piece : ply.pieces) {
                if (const auto shear = piece.piece.shear_max)
                    EXPECT_LT(*shear, level ? 0.05 : 1.5 * lean * 180.0 / pi)
                        << layup << ply.number;
                else
                    EXPECT_LT(piece.piece.strain_max, level ? 1e-4 : 0.5 * lean)
                        << layup << ply.number;
            }
        }
        EXPECT_GE(lapped_plies, 4u) << layup;
    }
}

TEST(LapOverEnd, OfATubeTurnedBackInsideIsATorusAndACylinder) {
    // Closed form, mid-plane at depth d under radius R: half a torus about the end, then a cylinder
    // of radius R - d - 2 rho, rho its own radius in the bend.
    const test::Folder folder;
    const double R = 900.0;
    const auto stem = folder.write("tube", "");
    test::write_tube(R, 800.0, stem);
    const Plan plan = test::planned(
        test::with(
            lapped("tube.step",
                   "centre = [370, 0, -900]\nradius = 60\nedge_turn = 180\nedge_radius = 14"),
            "bow = [0, 1, 0]", "bow = [1, 0, 0]"),
        stem.parent_path().string());
    for (const templates::LaidPly& ply : plan.plies) {
        if (ply.cover) continue;
        const double d = ply.lay_depth_mm, rho = 14.0 - d;
        const double turn = chord(60.0 + ply.edge_offset_mm, 30.0) / R;
        const double outside = segment(60.0 + ply.edge_offset_mm, 30.0) * (R - d) / R;
        const double bend = turn * (R - 14.0) * pi * rho;
        const double flap = turn * (R - d - 2.0 * rho) * (50.0 + 25.0 * (ply.number - 1));
        EXPECT_NEAR(ply.surface_area_mm2 / (outside + bend + flap), 1.0, area_bar) << ply.number;
    }
}

TEST(LapOverEnd, InsideARoundHatchIsATorusAndACylinderAndItsClothKeepsItsLimit) {
    const test::Folder folder;
    const double hatch = 250.0, from = 280.0;
    const auto plate = [&](const std::string& fabrics) {
        return on_plate(
            folder, {Vec3(0, 0, hatch)},
            lapped("plate.step", "centre = [280, 0, 0]\nradius = 60\nlap_over = 30", fabrics));
    };
    const Plan plan = plate("");
    for (const templates::LaidPly& ply : plan.plies) {
        for (const templates::LaidPiece& piece : ply.pieces)
            EXPECT_LE(piece.piece.strain_max, 0.05) << piece.piece.id;
        if (ply.cover) continue;
        const double reach = 60.0 + ply.edge_offset_mm;
        const double area = test::lapped_into_hatch(reach, hatch, from, 12.0 - ply.lay_depth_mm,
                                                    30.0 + 25.0 * (ply.number - 1));
        EXPECT_NEAR(ply.surface_area_mm2 / area, 1.0, 2.0 * area_bar) << ply.number;
    }
}

TEST(LapOverEnd, IsRefusedWhereClothCannotBeRolled) {
    const test::Folder folder;
    const auto stem = folder.write("plate", "");
    test::write_plate(400.0, {Vec3(0, 0, 40)}, stem);
    const auto refused = [&](const std::string& damage, ErrorKind kind, const std::string& words) {
        const auto plan =
            plan_repair(test::job_of(lapped("plate.step", damage), stem.parent_path().string()));
        ASSERT_FALSE(plan) << damage;
        EXPECT_EQ(plan.error().kind, kind) << damage;
        EXPECT_NE(plan.error().message().find(words), std::string::npos) << plan.error().message();
    };
    refused("centre = [370, 370, 0]\nradius = 60", ErrorKind::no_safe_answer, "corner");
    refused("centre = [370, 0, 0]\nradius = 60\nedge_radius = 3", ErrorKind::bad_input,
            "damage.edge_radius");
    refused("centre = [60, 0, 0]\nradius = 30", ErrorKind::no_safe_answer, "damage.at_end");
}

}  // namespace
}  // namespace tearline::lap_over_end_test

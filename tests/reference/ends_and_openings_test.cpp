#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/plane/nearest_on_line.h"
#include "tests/support/cad_models.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"

/// Whole plans at the hull's end and round openings against closed forms: segments of circles,
/// rings, caps of a sphere (SOURCES.md section 6).
namespace tearline::ends_and_openings_test {
namespace {

using std::numbers::pi;
// Bars: areas within 0.05 % (STEP); a line within 0.1 mm.
constexpr double area_bar = 5e-4;

/// A job of four mats over a floor of 4 mm, the damage as given.
std::string four_mats(const std::string& model, const std::string& damage) {
    return "[hull]\nmodel = \"" + model +
           "\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\noutward = \"as modelled\"\nskin = \"12 mm\"\n"
           "mirror = false\n[damage]\n" +
           damage +
           "\n[layup]\nstack = [\"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\"]\ncover = "
           "[\"mat 300\"]\n";
}

/// A flat plate, its face up, with round holes.
Plan on_plate(const test::Folder& folder, const std::vector<Vec3>& holes,
              const std::string& damage) {
    const auto stem = folder.write("plate", "");
    test::write_plate(400.0, holes, stem);
    return test::planned(four_mats("plate.step", damage), stem.parent_path().string());
}

/// Area of a disc on the near side of a line at `distance` from its middle.
double segment(double radius, double distance) {
    return radius * radius * (pi - std::acos(distance / radius)) +
           distance * std::sqrt(radius * radius - distance * distance);
}

double ring(double outer, double inner) {
    return pi * (outer * outer - inner * inner);
}

std::size_t holes_of(const std::vector<Region3>& regions) {
    std::size_t holes = 0;
    for (const Region3& region : regions) holes += region.holes.size();
    return holes;
}

TEST(HullEndPlan, LineFromEndToEndBoundsEitherPartHoweverLarge) {
    // Closed form: the plate is 800 mm square, the line lies 100 mm off its middle.
    const test::Folder folder;
    for (const double side : {1.0, -1.0}) {
        const Plan plan = on_plate(folder, {},
                                   "outline = [[100, -400, 0], [100, 0, 0], [100, 400, 0]]\n"
                                   "join = \"straight\"\ndepth = 4\nwithin = [" +
                                       std::to_string(100.0 + side * 200.0) + ", 0, 0]");
        const double wide = 400.0 - side * 100.0;
        EXPECT_NEAR(plan.place.areas.damage_mm2 / (wide * 800.0), 1.0, area_bar);
        for (const templates::LaidPly& ply : plan.plies)
            EXPECT_NEAR(ply.surface_area_mm2 / ((wide + ply.edge_offset_mm) * 800.0), 1.0, area_bar)
                << ply.number;
    }
}

std::size_t warned(const Plan& plan, const char* code) {
    return static_cast<std::size_t>(
        std::count_if(plan.warnings.begin(), plan.warnings.end(),
                      [&](const Warning& warning) { return warning.code() == code; }));
}

TEST(HullEndPlan, ALapWhereNoPlyReachesAnEndIsToldAndOneThatDoesIsNot) {
    const test::Folder folder;
    const std::string lap = "\nradius = 40\ndepth = 4\nat_end = \"lap\"";
    EXPECT_EQ(warned(on_plate(folder, {}, "centre = [0, 0, 0]" + lap), "lap-without-end"), 1u);
    const Plan over = on_plate(folder, {}, "centre = [380, 0, 0]" + lap);
    EXPECT_EQ(warned(over, "lap-without-end"), 0u);
    EXPECT_EQ(warned(over, "laps-over-hull-end"), 1u);
}

TEST(HullEndPlan, AHoleBesideTheDamageIsNamedAsOneAndNotAsTheHullsEnd) {
    // A hole of radius 10 whose edge is 30 mm from the disc: within the scarf of 48.
    const test::Folder folder;
    const std::string disc = "centre = [0, 0, 0]\nradius = 40\ndepth = 4\n";
    const Plan plan = on_plate(folder, {Vec3(80, 0, 10)}, disc);
    ASSERT_EQ(warned(plan, "cut-at-hull-end"), 1u);
    for (const Warning& warning : plan.warnings)
        if (const auto* end = std::get_if<warn::CutAtHullEnd>(&warning.cause)) {
            ASSERT_TRUE(end->hole);
            EXPECT_NEAR((*end->hole - Vec3(80, 0, 0)).norm(), 0.0, 0.1);
        }
    const std::string named =
        "[[damage.opening]]\nkeep = true\ncentre = [80, 0, 0]\n[[fabric]]\nname = \"mat 450\"\n"
        "tear_margin = 0\n[[fabric]]\nname = \"mat 300\"\ntear_margin = 0\n";
    EXPECT_EQ(warned(on_plate(folder, {Vec3(80, 0, 10)}, disc + named), "cut-at-hull-end"), 0u);
    // At both, both are told.
    const Plan both =
        on_plate(folder, {Vec3(340, 60, 10)}, "centre = [340, 0, 0]\nradius = 40\ndepth = 4\n");
    EXPECT_EQ(warned(both, "cut-at-hull-end"), 2u);
}

TEST(OpeningPlan, FarFromTheDamageIsRefusedWithItsDistance) {
    // By hand: 300 - 20 - 40 mm from edge to edge; the repair reaches about 100.
    const test::Folder folder;
    const auto stem = folder.write("plate", "");
    test::write_plate(400.0, {}, stem);
    for (const auto& [x, off] : {std::pair{"300", "lies 2"}, {"170", "lies 110"}}) {
        const auto refused = plan_repair(test::job_of(
            four_mats("plate.step",
                      "centre = [0, 0, 0]\nradius = 40\ndepth = 4\n[[damage.opening]]\nkeep = "
                      "true\nradius = 20\ncentre = [" +
                          std::string(x) + ", 0, 0]"),
            stem.parent_path().string()));
        ASSERT_FALSE(refused) << x;
        EXPECT_EQ(refused.error().kind, ErrorKind::bad_input);
        EXPECT_EQ(refused.error().key, "damage.opening[1]");
        EXPECT_EQ(refused.error().what.find(off), 0u) << refused.error().what;
    }
}

TEST(HullEndPlan, DiscAtThePlatesEdgeIsSegmentsPlyByPly) {
    const test::Folder folder;
    for (const double inside : {30.0, 5.0}) {
        const Plan plan = on_plate(
            folder, {},
            "centre = [" + std::to_string(400.0 - inside) + ", 0, 0]\nradius = 60\ndepth = 4");
        EXPECT_NEAR(plan.place.areas.damage_mm2 / segment(60.0, inside), 1.0, area_bar);
        for (const templates::LaidPly& ply : plan.plies) {
            EXPECT_NEAR(ply.surface_area_mm2 / segment(60.0 + ply.edge_offset_mm, inside), 1.0,
                        area_bar)
                << ply.number;
            // The clipped edge says so, on every template.
            for (const templates::LaidPiece& piece : ply.pieces)
                EXPECT_TRUE(std::any_of(piece.outline.marks.begin(), piece.outline.marks.end(),
                                        [](const auto& mark) {
                                            return std::holds_alternative<templates::HullEnd>(mark);
                                        }));
        }
    }
}

TEST(HullEndPlan, CoreIsFilledSolidBesideTheHullsEnd) {
    // Closed form: the part of the plug's disc within 25 mm of the plate's edge, as deep as the
    // plug, is paste and no core.
    const test::Folder folder;
    const auto stem = folder.write("plate", "");
    test::write_plate(400.0, {}, stem);
    const auto plug = [&](const std::string& fill) {
        return test::planned(
                   "[hull]\nmodel = \"plate.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\noutward = "
                   "\"as "
                   "modelled\"\nmirror = false\n[damage]\ncentre = [370, 0, 0]\nradius = "
                   "50\nreaches = "
                   "\"inner skin\"\n[core]\nthickness = 15\nouter = 3\ninner = 2.5\nmaterial = "
                   "\"foam\"\nedge_fill = " +
                       fill +
                       "\n[layup.inner]\nfill = \"mat 300\"\n[layup.outer]\nfill = \"mat 450\"\n"
                       "cover = [\"mat 300\"]\n[backing]\nkind = \"none\"\n",
                   stem.parent_path().string())
            .core.value();
    };
    const auto none = plug("0"), filled = plug("25");
    const double radius = 50.0 + 40.0 - 2.0;  // ring of 90 mm less the gap
    EXPECT_NEAR(none.bed.area_mm2 / segment(radius, 30.0), 1.0, area_bar);
    EXPECT_DOUBLE_EQ(none.filled_mm2, 0.0);
    // The template ends there, and nothing has to be measured off it; ends of the strip are
    // rounded.
    EXPECT_NEAR(filled.bed.area_mm2 / segment(radius, 5.0), 1.0, 0.002);
    EXPECT_NEAR(filled.filled_mm2 / (segment(radius, 30.0) - segment(radius, 5.0)), 1.0, 0.01);
    EXPECT_NEAR((filled.paste_mL - none.paste_mL) * 1000.0 /
                    ((segment(radius, 30.0) - segment(radius, 5.0)) * filled.plug_mm),
                1.0, 0.01);  // ends of the strip are rounded
    const auto says = [](const plan::CorePlan& core) {
        for (const templates::Mark& mark : core.pieces.at(0).pieces.at(0).outline.marks)
            if (const auto* label = std::get_if<templates::Label>(&mark))
                if (label->text.starts_with("ENDS 25 MM SHORT OF THE HULL")) return true;
        return false;
    };
    EXPECT_TRUE(says(filled));
    EXPECT_FALSE(says(none));
}

TEST(OpeningPlan, PliesAreRingsRoundTheHole) {
    const test::Folder folder;
    const double hole = 30.0, radius = 100.0, width = 48.0;
    for (const bool rises : {false, true}) {
        const Plan plan = on_plate(folder, {Vec3(0, 0, hole)},
                                   std::string("centre = [0, 0, 0]\nradius = 100\ndepth = 4\n"
                                               "[[damage.opening]]\nkeep = true\n") +
                                       (rises ? "scarf_to = \"opening\"\n" : ""));
        ASSERT_EQ(plan.place.openings.size(), 1u);
        EXPECT_NEAR(plan.place.openings[0].width, 2.0 * hole, 0.1);
        EXPECT_NEAR(plan.place.areas.damage_mm2 / ring(radius, hole + (rises ? width : 0.0)), 1.0,
                    rises ? 2.0 * area_bar : area_bar);
        EXPECT_NEAR(plan.place.areas.scarf_mm2 / ring(radius + width, hole), 1.0, area_bar);
        EXPECT_EQ(holes_of({plan.place.damage}), 1u);
        EXPECT_EQ(holes_of(plan.place.scarf), 1u);
        EXPECT_EQ(holes_of(plan.place.footprint), 1u);
        for (const templates::LaidPly& ply : plan.plies) {
            const double own = hole + (rises ? std::max(2.0, width - ply.edge_offset_mm) : 2.0);
            EXPECT_NEAR(ply.surface_area_mm2 / ring(radius + ply.edge_offset_mm, own), 1.0,
                        area_bar)
                << ply.number;
            EXPECT_EQ(holes_of(ply.outlines_3d), 1u);
            for (const Vec3& p : ply.outlines_3d[0].holes[0])
                EXPECT_NEAR(p.norm(), own, 0.1) << ply.number;
            // Cut at the net line, never torn: the torn band lies outside alone.
            ASSERT_EQ(ply.pieces.size(), 1u);
            const templates::Template& outline = ply.pieces[0].outline;
            ASSERT_EQ(outline.net.holes.size(), 1u);
            EXPECT_EQ(outline.tear->holes, outline.net.holes);
        }
    }
}

TEST(OpeningPlan, ARowOfBoltsIsAsManyHoles) {
    const test::Folder folder;
    const Plan plan =
        on_plate(folder, {Vec3(-25, 0, 6), Vec3(25, 0, 6), Vec3(0, 40, 20)},
                 "centre = [0, 10, 0]\nradius = 100\ndepth = 4\n[[damage.opening]]\nkeep = true\n");
    ASSERT_EQ(plan.place.openings.size(), 3u);
    for (const templates::LaidPly& ply : plan.plies) {
        const double expected =
            ring(100.0 + ply.edge_offset_mm, 0.0) - 2 * ring(8, 0) - ring(22, 0);
        EXPECT_NEAR(ply.surface_area_mm2 / expected, 1.0, area_bar) << ply.number;
        EXPECT_EQ(holes_of(ply.outlines_3d), 3u);
        EXPECT_EQ(ply.pieces.at(0).outline.net.holes.size(), 3u);
    }
}

TEST(OpeningPlan, OneDrawnByTheJobIsAsGoodAsOneOfTheModel) {
    const test::Folder folder;
    const Plan plan =
        on_plate(folder, {},
                 "centre = [0, 0, 0]\nradius = 100\ndepth = 4\n[[damage.opening]]\n"
                 "centre = [10, 20, 0]\nradius = 25\nkeep = true\nclear = \"4 mm\"\n");
    EXPECT_NEAR(plan.place.areas.damage_mm2 / (ring(100, 0) - ring(25, 0)), 1.0, area_bar);
    for (const templates::LaidPly& ply : plan.plies)
        EXPECT_NEAR(ply.surface_area_mm2 / (ring(100 + ply.edge_offset_mm, 0) - ring(29, 0)), 1.0,
                    area_bar);
}

TEST(OpeningPlan, SlitsOfSuccessivePliesLieAQuarterApartOrMore) {
    const test::Folder folder;
    const Plan plan = on_plate(folder, {Vec3(0, 0, 30)},
                               "centre = [0, 0, 0]\nradius = 100\ndepth = 4\n[[damage.opening]]\n"
                               "keep = true\nslit = true\n");
    std::optional<double> before;
    for (const templates::LaidPly& ply : plan.plies) {
        const auto& cuts = ply.pieces.at(0).outline.relief_cuts;
        ASSERT_EQ(cuts.size(), 1u);
        EXPECT_EQ(cuts[0].kind, "slit");
        // From hole to tear line: 20 mm of torn band beyond the edge.
        EXPECT_NEAR((cuts[0].points[1] - cuts[0].points[0]).norm(),
                    100.0 + ply.edge_offset_mm + 20.0 - 32.0, 0.3);
        // Its word stands beside it.
        int words = 0;
        for (const templates::Mark& mark : ply.pieces.at(0).outline.marks) {
            const auto* label = std::get_if<templates::Label>(&mark);
            if (label == nullptr || label->text != "SLIT FOR THE FITTING") continue;
            ++words;
            EXPECT_LT(plane::distance_to_line(cuts[0].points, label->base), 10.0);
        }
        EXPECT_EQ(words, 1) << ply.number;
        const Vec2 way = cuts[0].points[1] - cuts[0].points[0];
        const double degrees = std::atan2(way.y(), way.x()) * 180.0 / pi;
        if (before) {
            EXPECT_GE(std::abs(std::remainder(degrees - *before, 360.0)), 90.0 - 1e-6);
        }
        before = degrees;
    }
}

TEST(OpeningPlan, OneThatTheJobDoesNotNameIsListed) {
    const test::Folder folder;
    const auto stem = folder.write("plate", "");
    test::write_plate(400.0, {Vec3(0, 0, 30)}, stem);
    const auto plan = plan_repair(
        test::job_of(four_mats("plate.step", "centre = [0, 0, 0]\nradius = 100\ndepth = 4"),
                     stem.parent_path().string()));
    ASSERT_FALSE(plan);
    EXPECT_EQ(plan.error().kind, ErrorKind::bad_input);
    for (const char* words : {"damage.opening", "(0.0, 0.0, 0.0) mm", "60.0 x ", "keep = true"})
        EXPECT_NE(plan.error().message().find(words), std::string::npos) << plan.error().message();
}

TEST(PolePlan, ADiscOverTheCollapsedEdgeOfAFaceIsACapLikeAnother) {
    // Closed form: area 2 pi R^2 (1 - cos(r / R)) of the sphere at the ply's own depth.
    const test::Folder folder;
    const auto stem = folder.write("bowl", "");
    test::write_bowl(500.0, stem);
    for (const double radius : {15.0, 60.0, 200.0}) {
        const Plan plan = test::planned(
            test::with(four_mats("bowl.step", "centre = [0, 0, -500]\nradius = " +
                                                  std::to_string(radius) + "\ndepth = 4"),
                       "up = [0, 0, 1]", "up = [0, 1, 0]"),
            stem.parent_path().string());
        for (const templates::LaidPly& ply : plan.plies) {
            const double turn = (radius + ply.edge_offset_mm) / 500.0;
            const double at_depth = 500.0 - ply.lay_depth_mm;
            if (ply.cover) continue;  // its depth changes along the scarf
            EXPECT_NEAR(
                ply.surface_area_mm2 / (2 * pi * at_depth * at_depth * (1.0 - std::cos(turn))), 1.0,
                area_bar)
                << radius << " ply " << ply.number;
        }
    }
}

TEST(CreaseAtHullEndPlan, TheOtherFaceOfTheSkinIsFoundWhereACreaseRunsOut) {
    // Two planes that meet at a sharp edge unfold to one: a disc on the inner face is a circle
    // there, whole or cut by the end. The model is the outer face, 12 mm away.
    const test::Folder folder;
    for (const double degrees : {45.0, 90.0}) {
        const auto stem = folder.write("keel", "");
        test::write_keel(degrees * pi / 180.0, stem);
        for (const double inside : {30.0, 80.0}) {
            const Plan plan = test::planned(
                four_mats("keel.step", "side = \"inside\"\ncentre = [" +
                                           std::to_string(800.0 - inside) + ", 0, " +
                                           std::to_string(12.0 / std::cos(degrees * pi / 360.0)) +
                                           "]\nradius = 60\ndepth = 4"),
                stem.parent_path().string());
            EXPECT_NEAR(plan.place.areas.damage_mm2 /
                            (inside < 60.0 ? segment(60.0, inside) : ring(60.0, 0.0)),
                        1.0, 2.0 * area_bar)
                << degrees << " " << inside;
        }
    }
}

TEST(TubePlan, AFootprintThatDoesNotMeetItselfIsPlanned) {
    // Its own margin closes the patch: of 188.5 mm half round the cylinder the footprint takes 160.
    const test::Folder folder;
    const auto stem = folder.write("tube", "");
    test::write_tube(60.0, 800.0, stem);
    const Plan plan =
        test::planned(four_mats("tube.step", "centre = [0, 0, -60]\nradius = 15\ndepth = 4") +
                          "cover_step = \"77 mm\"\n",
                      stem.parent_path().string());
    // Closed form: the cylinder unrolls, the footprint is a disc.
    const double reach = 15.0 + 48.0 + 77.0 + 20.0;
    EXPECT_NEAR(plan.place.areas.footprint_mm2 / ring(reach, 0.0), 1.0, area_bar);
}

}  // namespace
}  // namespace tearline::ends_and_openings_test

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <sstream>

#include "core/plane/nearest_on_line.h"
#include "core/warnings/warning.h"
#include "tests/support/lap_shapes.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"

/// Cloth that goes over the end of a hull that was measured, by hand or by a scan, where that end
/// is told by points along it (DEFINITIONS.md, End of the hull); against closed forms.
namespace tearline::lap_of_measured_test {
namespace {

using std::numbers::pi;
// Bars: areas within 0.05 %; a line within 0.1 mm. What was measured here is exact.
constexpr double area_bar = 5e-4, line_bar = 0.1;
using test::beyond;
using test::chord;
using test::fold;
using test::segment;

constexpr const char* stack =
    "\n[layup]\nstack = [\"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\"]\ncover = [\"mat "
    "300\"]\n";

/// A flat of 900 mm by offsets from a plane, all zero: x forward, y up.
std::string flat(const std::string& damage) {
    std::string rows;
    for (int row = 0; row < 10; ++row) rows += "[0, 0, 0, 0, 0, 0, 0, 0, 0, 0], ";
    return "[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 24\n[hull.grid]\nspacing_along = "
           "100\nspacing_across = 100\noffsets = [" +
           rows + "]\n[damage]\nat_end = \"lap\"\ndepth = 4\n" + damage + stack;
}

/// A disc of 60 mm whose middle lies 30 mm from a straight end.
void expect_lap_of_straight_edge(const Plan& plan) {
    const double radius = 4.0 + 8.0, turn = 0.5 * pi;
    ASSERT_TRUE(plan.place.lap);
    EXPECT_NEAR(plan.place.lap->radius_mm, radius, 1e-6);
    for (const templates::LaidPly& ply : plan.plies) {
        const double over = 50.0 + 25.0 * (ply.number - 1);
        const double girth = (radius - ply.lay_depth_mm) * turn;
        const double reach = 60.0 + ply.edge_offset_mm, wide = chord(reach, 30.0);
        ASSERT_EQ(ply.pieces.size(), 1u);
        const auto& bend = fold(ply.pieces[0], true).line;
        EXPECT_NEAR(beyond(ply.pieces[0], bend), girth + over, line_bar) << ply.number;
        EXPECT_NEAR((bend.front() - bend.back()).norm(), wide, line_bar) << ply.number;
        if (ply.cover) continue;
        EXPECT_NEAR(ply.surface_area_mm2 / (segment(reach, 30.0) + wide * (girth + over)), 1.0,
                    area_bar)
            << ply.number;
    }
    for (const Warning& warning : plan.warnings) {
        EXPECT_FALSE(is<warn::CutAtHullEnd>(warning));
        EXPECT_FALSE(is<warn::CoverCutAtHullEnd>(warning));
    }
}

TEST(LapOfMeasured, WhereItsFiguresGoOnTheEndIsTheLineThroughItsPoints) {
    // The last two points lie on the line's way on, as those of a straight gunwale do.
    expect_lap_of_straight_edge(test::planned(
        flat("centre = [400, 570]\nradius = 60\nend = [[150, 600], [390, 600], [700, 600]]")));
}

TEST(LapOfMeasured, WhereItsFiguresStopAtTheEndTheyBothTellIt) {
    // The last row stands on the gunwale.
    expect_lap_of_straight_edge(test::planned(
        flat("centre = [400, 870]\nradius = 60\nend = [[150, 900, 0], [700, 900, 0]]")));
}

TEST(LapOfMeasured, CutsThereWithoutAWordThatItMayGoOn) {
    const Plan plan = test::planned(test::with(
        flat("centre = [400, 570]\nradius = 60\nend = [[150, 600], [390, 600], [700, 600]]"),
        "at_end = \"lap\"", "at_end = \"cut\""));
    EXPECT_NEAR(plan.place.areas.damage_mm2 / segment(60.0, 30.0), 1.0, area_bar);
    std::size_t cut = 0;
    for (const Warning& warning : plan.warnings)
        if (const auto* told = std::get_if<warn::CutAtHullEnd>(&warning.cause)) {
            EXPECT_FALSE(told->measured);
            ++cut;
        }
    EXPECT_GT(cut, 0u);
}

TEST(LapOfMeasured, OfARoundHatchToldByPointsIsATorusAndACylinder) {
    const double hatch = 250.0, from = 280.0;  // its middle lies at 450, 100
    std::ostringstream end;
    for (int degrees = 30; degrees <= 150; degrees += 10)
        end << (degrees > 30 ? ", [" : "[") << 450.0 + hatch * std::cos(degrees * pi / 180.0)
            << ", " << 100.0 + hatch * std::sin(degrees * pi / 180.0) << "]";
    const Plan plan = test::planned(
        flat("centre = [450, 380]\nradius = 60\nlap_over = 30\nend = [" + end.str() + "]"));
    for (const templates::LaidPly& ply : plan.plies) {
        if (ply.cover) continue;
        const double reach = 60.0 + ply.edge_offset_mm;
        const double area = test::lapped_into_hatch(reach, hatch, from, 12.0 - ply.lay_depth_mm,
                                                    30.0 + 25.0 * (ply.number - 1));
        EXPECT_NEAR(ply.surface_area_mm2 / area, 1.0, 2.0 * area_bar) << ply.number;
    }
}

/// A topside of radius 1200 about the x axis that ends at 45 degrees, where it is turned in by a
/// flange of radius 12, as a scanner sees it from outside: a point every 4 mm, 0.1 mm of noise.
std::string topside_by_light() {
    std::mt19937 random(7);
    std::normal_distribution<double> noise(0.0, 0.1);
    std::ostringstream points;
    const double R = 1200.0, sheer = pi / 4.0;
    for (double x = -400.0; x <= 400.0; x += 4.0) {
        for (double s = -500.0; s <= 0.0; s += 4.0) {
            const double a = sheer + s / R, r = R + noise(random);
            points << x << ' ' << r * std::cos(a) << ' ' << r * std::sin(a) << '\n';
        }
        for (double turn = 0.1; turn < pi / 2.0; turn += 0.3) {
            const double a = sheer + turn, r = 12.0 + noise(random);
            points << x << ' ' << (R - 12.0) * std::cos(sheer) + r * std::cos(a) << ' '
                   << (R - 12.0) * std::sin(sheer) + r * std::sin(a) << '\n';
        }
        for (double in = 4.0; in < 80.0; in += 4.0) {
            const double y = (R - 12.0) * std::cos(sheer) + 12.0 * std::cos(sheer + pi / 2.0);
            const double z = (R - 12.0) * std::sin(sheer) + 12.0 * std::sin(sheer + pi / 2.0);
            points << x << ' ' << y - in * std::cos(sheer) << ' ' << z - in * std::sin(sheer)
                   << '\n';
        }
    }
    return points.str();
}

std::string on_topside(double s, double x) {
    const double a = pi / 4.0 + s / 1200.0;
    std::ostringstream text;
    text << "[" << x << ", " << 1200.0 * std::cos(a) << ", " << 1200.0 * std::sin(a) << "]";
    return text.str();
}

std::string scanned_job(const std::string& end) {
    return "[hull]\nmodel = \"topside.xyz\"\nunit = \"mm\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin "
           "= "
           "9\n[hull.scan]\nkind = \"light\"\nseen_from = [0, 3000, 3000]\n[damage]\nat_end = "
           "\"lap\"\ndepth = 4\ncentre = " +
           on_topside(-30.0, 0.0) + "\nradius = 60\n" + end + stack;
}

TEST(LapOfMeasured, OfAScanWhoseFlangeIsNoSkin) {
    const test::Folder folder;
    const auto stem = folder.write("topside.xyz", topside_by_light()).parent_path().string();
    const Plan plan = test::planned(scanned_job("end = [" + on_topside(0, -250) + ", " +
                                                on_topside(0, 0) + ", " + on_topside(0, 250) + "]"),
                                    stem);
    ASSERT_TRUE(plan.place.lap);
    // The end is straight, along the cylinder: what lies on the hull is that much narrower up and
    // down by its depth, and what lies over the end is rolled. A scan's bar: 0.5 %.
    for (const templates::LaidPly& ply : plan.plies) {
        if (ply.cover) continue;
        const double d = ply.lay_depth_mm, reach = 60.0 + ply.edge_offset_mm;
        const double over = (12.0 - d) * 0.5 * pi + 50.0 + 25.0 * (ply.number - 1);
        const double expected =
            segment(reach, 30.0) * (1200.0 - d) / 1200.0 + chord(reach, 30.0) * over;
        EXPECT_NEAR(ply.surface_area_mm2 / expected, 1.0, 5e-3) << ply.number;
    }
}

TEST(LapOfMeasured, IsRefusedWhereTheEndIsNotTold) {
    const auto refused = [&](const std::string& job, ErrorKind kind, const std::string& words) {
        const auto plan = plan_repair(test::job_of(job));
        ASSERT_FALSE(plan) << words;
        EXPECT_EQ(plan.error().kind, kind) << plan.error().message();
        EXPECT_NE(plan.error().message().find(words), std::string::npos) << plan.error().message();
    };
    const std::string disc = "centre = [400, 870, 0]\nradius = 60\n";
    refused(flat("centre = [400, 780, 0]\nradius = 60\n"), ErrorKind::bad_input,
            "damage.end: missing");
    refused(flat(disc), ErrorKind::bad_input, "damage.end");
    // Told less far than the damage reaches; and no farther than that, where the cloth reaches on.
    refused(flat(disc + "end = [[370, 900, 0], [430, 900, 0]]"), ErrorKind::bad_input,
            "damage.end");
    refused(flat("centre = [400, 570, 0]\nradius = 60\nend = [[340, 600, 0], [460, 600, 0]]"),
            ErrorKind::no_safe_answer, "damage.end");
    const auto one = job::parse_job(flat(disc + "end = [[350, 900, 0]]"), "job.toml");
    ASSERT_FALSE(one);
    EXPECT_NE(one.error().message().find("2 points"), std::string::npos) << one.error().message();
    const auto exact =
        job::parse_job(test::with(test::sample_text("curlew-deck-edge"), "at_end = \"lap\"",
                                  "at_end = \"lap\"\nend = [[0, 0, 0], [1, 0, 0]]"),
                       "job.toml");
    ASSERT_FALSE(exact);
    EXPECT_NE(exact.error().message().find("goes with [hull.scan]"), std::string::npos)
        << exact.error().message();
}

}  // namespace
}  // namespace tearline::lap_of_measured_test

#include "core/ground/end_lap.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/ground/ground.h"
#include "tests/support/flat_plate.h"
#include "tests/support/lap_shapes.h"
#include "tests/support/loops.h"

/// Cloth over the end of a flat plate, where segments of discs and rectangles beside them are all
/// there is.
namespace tearline::ground {
namespace {

using test::chord;
using test::segment;
using std::numbers::pi;

/// Mats of 1 mm, four in a dish of 4 mm at 12:1, with torn bands of 20 mm: ply k ends 12 k mm out.
job::Job lapped(double radius, const Vec3& centre) {
    job::Job job = test::disc_on_plate(radius, centre);
    job.hull.mirror = false;
    job.damage.at_end = job::AtEnd::lap;
    job::Fabric& mat = job.fabrics.at("mat 450");
    mat.thickness = 1.0;
    mat.tear_margin = 20.0;
    mat.least_radius = 8.0;
    return job;
}

/// A disc of 60 mm that the end cuts 30 mm from its middle: it is 4 mm deep there.
job::Job cut_by_end() {
    return lapped(60.0, {970, 0, 0});
}

/// A disc of 30 mm, 50 mm from the end: only its scarf reaches it.
job::Job scarf_at_end() {
    return lapped(30.0, {950, 0, 0});
}

Ground laid(const job::Job& job) {
    auto ground = lay_ground(job, test::flat_plate());
    if (!ground) throw std::runtime_error(ground.error().message());
    return std::move(*ground);
}

Error refused(const job::Job& job) {
    const auto ground = lay_ground(job, test::flat_plate());
    EXPECT_FALSE(ground) << "nothing was refused";
    return ground ? Error() : ground.error();
}

/// The chart point `way` mm beyond the place (1000, y) of the end: the plate's chart is a plane.
Vec2 beyond_end(const Ground& ground, double y, double way) {
    const auto& patch = ground.patch;
    const Vec2 end = patch.chart_point(patch.nearest({1000, y, 0}).at);
    const Vec2 inside = patch.chart_point(patch.nearest({980, y, 0}).at);
    return end + way / 20.0 * (end - inside);
}

TEST(EndLap, BendsByTheDepthAtTheEndAndTheLeastRadiusOfTheCloth) {
    // By hand: 4 mm deep at the end, and mat that lies round 8 mm.
    const Ground ground = laid(cut_by_end());
    ASSERT_TRUE(ground.lap);
    EXPECT_NEAR(ground.lap->depth, 4.0, 1e-6);
    EXPECT_NEAR(ground.lap->bend().radius, 12.0, 1e-6);
    EXPECT_NEAR(ground.lap->ground_radius(), 8.0, 1e-6);
    EXPECT_NEAR(ground.lap->bend().girth(), 6.0 * pi, 1e-6);
    // Each ply goes a step farther than the one before it, the last one's torn band with it.
    EXPECT_EQ(ground.lap->laps, (std::vector<double>{50.0, 75.0, 100.0, 125.0}));
    EXPECT_NEAR(ground.lap->longest, 125.0 + 20.0, 1e-9);
}

TEST(EndLap, IsAsDeepAsTheScarfThereAndOfPliesThatReachItAlone) {
    // By hand: a scarf of 12 from 4 mm deep, 20 mm along: 4 - 20 / 12; edges 42, 54, 66 and 78 mm
    // from a middle that lies 50 mm from the end.
    const Ground ground = laid(scarf_at_end());
    ASSERT_TRUE(ground.lap);
    EXPECT_NEAR(ground.lap->depth, 4.0 - 20.0 / 12.0, 0.01);
    EXPECT_NEAR(ground.lap->ground_radius(), 8.0, 1e-6);
    EXPECT_EQ(ground.lap->laps, (std::vector<double>{0.0, 75.0, 100.0, 125.0}));
    const auto& plies = ground.levels.plies;
    EXPECT_EQ(ground.lap->lap_of(ground.levels, plies[0]), 0.0);
    EXPECT_EQ(ground.lap->lap_of(ground.levels, plies[2]), 100.0);
    plies::PlyLevel other;
    other.number = 9;
    EXPECT_EQ(ground.lap->lap_of(ground.levels, other), 0.0);
    EXPECT_NEAR(test::area_of(ground.ply_regions[0].chart), pi * 42.0 * 42.0, 8.0);
}

TEST(EndLap, CountsFromTheFirstPlyOfItsOwnSide) {
    // A side laid second has numbers that run on; its first ply goes over by lap_over as any does.
    job::Job job = cut_by_end();
    job.part.plies_before = 3;
    job.damage.lap_over = 40.0;
    const Ground ground = laid(job);
    ASSERT_TRUE(ground.lap);
    EXPECT_EQ(ground.levels.plies.front().number, 4);
    EXPECT_EQ(ground.lap->laps, (std::vector<double>{40.0, 65.0, 90.0, 115.0}));
}

TEST(EndLap, PliesAreASegmentAndARectangleWhateverEndItIs) {
    // Closed form: the disc's larger part, and its chord as wide as the bend and the lap are long.
    // Cut at two sides that look along different axes and opposite ways.
    for (const Vec3& centre : {Vec3(970, 40, 0), Vec3(70, -970, 0)}) {
        const Ground ground = laid(lapped(60.0, centre));
        ASSERT_TRUE(ground.lap) << centre.transpose();
        const double girth = ground.lap->bend().girth();
        for (std::size_t i = 0; i < 4; ++i) {
            const double radius = 60.0 + 12.0 * static_cast<double>(i + 1);
            const double expected =
                segment(radius, 30.0) + chord(radius, 30.0) * (girth + ground.lap->laps[i]);
            EXPECT_NEAR(test::area_of(ground.ply_regions[i].chart) / expected, 1.0, 5e-4)
                << centre.transpose() << ", ply " << i + 1;
            EXPECT_FALSE(ground.ply_regions[i].cut_at_hull_end);
        }
        // The footprint's beyond the end is its chord times all that is ground there.
        const double wide = chord(60.0 + 48.0 + 20.0, 30.0);
        EXPECT_NEAR(ground.lap->area_mm2 / (wide * (girth + 145.0)), 1.0, 1e-3);
        EXPECT_NEAR(test::area_of(ground.footprint_under_cloth()) /
                        (segment(128.0, 30.0) + wide * (girth + 145.0)),
                    1.0, 5e-4);
    }
}

TEST(EndLap, DishGoesOnThroughTheBendToOneDepthOnTheFarFace) {
    // By hand: where the scarf is 2 mm deep at the end, half way round the bend it is half of that
    // and half of the deepest, 4 mm; on the far face 4 mm.
    const Ground ground = laid(cut_by_end());
    ASSERT_TRUE(ground.lap);
    const double y = std::sqrt(84.0 * 84.0 - 30.0 * 30.0), girth = ground.lap->bend().girth();
    EXPECT_NEAR(ground.dish->depth(beyond_end(ground, y, -0.5)), 2.0, 0.05);
    EXPECT_NEAR(ground.dish->depth(beyond_end(ground, y, 0.5 * girth)), 3.0, 0.02);
    EXPECT_NEAR(ground.dish->depth(beyond_end(ground, y, girth)), 4.0, 0.02);
    EXPECT_NEAR(ground.dish->depth(beyond_end(ground, y, girth + 100.0)), 4.0, 1e-6);
    EXPECT_NEAR(ground.dish->depth(beyond_end(ground, 0.0, 0.3 * girth)), 4.0, 1e-6);
    EXPECT_NEAR(ground.dish->deepest(), 4.0, 1e-9);
    EXPECT_FALSE(ground.dish->measured());
    EXPECT_FALSE(ground.dish->profile().empty());
}

TEST(EndLap, LinesLieOnTheRolledFaceAndThenDownTheFarOne) {
    // Closed form: a quarter circle of 12 mm about (1000, y, -12), then down the plane x = 1012.
    const Ground ground = laid(cut_by_end());
    ASSERT_TRUE(ground.lap);
    const double girth = ground.lap->bend().girth();
    const auto on_line = [&](double v, double x, double z) {
        const auto lines = ground.lap->lines_3d(v);
        ASSERT_FALSE(lines.empty());
        for (const auto& line : lines) {
            ASSERT_GE(line.size(), 2u);
            for (const Vec3& p : line) {
                EXPECT_NEAR(p.x(), x, 1e-3) << v;
                EXPECT_NEAR(p.z(), z, 1e-3) << v;
            }
        }
    };
    on_line(0.0, 1000.0, 0.0);
    on_line(0.5 * girth, 1000.0 + 12.0 * std::sin(pi / 4), 12.0 * (std::cos(pi / 4) - 1.0));
    on_line(girth + 50.0, 1012.0, -62.0);
    // As long as the footprint is wide on the end.
    const auto end = ground.lap->lines_3d(0.0);
    EXPECT_NEAR((end[0].front() - end[0].back()).norm(), chord(128.0, 30.0), 0.1);
    // What lies on the end is carried over square to it, and nothing else.
    const auto box = [&](double from, double to) {
        Region2 region{{beyond_end(ground, -40, to), beyond_end(ground, 40, to),
                        beyond_end(ground, 40, from), beyond_end(ground, -40, from)},
                       {}};
        if (signed_area(region.outer) < 0) std::reverse(region.outer.begin(), region.outer.end());
        return region;
    };
    const Region2 on_end = box(0.0, -30.0), inside = box(-5.0, -30.0);
    EXPECT_NEAR(area(ground.lap->carried_over(on_end)), 80.0 * (30.0 + ground.lap->over->across()),
                0.1);
    EXPECT_NEAR(area(ground.lap->carried_over(inside)), 80.0 * 25.0, 0.1);
    // And so the dish bends along the outline on the far face, too: a line from there and back.
    double farthest = 0.0;
    for (const auto& line : ground.bend_lines(0.0))
        for (const Vec2& p : line)
            if (const auto beyond = ground.lap->over->beyond(p))
                farthest = std::max(farthest, beyond->way);
    EXPECT_NEAR(farthest, ground.lap->over->across(), 0.5);
}

TEST(EndLap, IsNoneWhereNothingReachesTheEnd) {
    EXPECT_FALSE(laid(lapped(60.0, {800, 0, 0})).lap);
    job::Job cut = cut_by_end();
    cut.damage.at_end = job::AtEnd::cut;
    const Ground ground = laid(cut);
    EXPECT_FALSE(ground.lap);
    EXPECT_TRUE(ground.ply_regions[0].cut_at_hull_end);
    EXPECT_NEAR(test::area_of(ground.ply_regions[0].chart) / segment(72.0, 30.0), 1.0, 5e-4);
    EXPECT_EQ(&ground.under_cloth(), &ground.patch);
}

TEST(EndLap, TakesARadiusThatIsGivenAndRefusesOneUnderTheDepth) {
    job::Job job = cut_by_end();
    job.damage.edge_radius = 4.5;
    const Ground ground = laid(job);
    ASSERT_TRUE(ground.lap);
    EXPECT_NEAR(ground.lap->bend().radius, 4.5, 1e-12);
    EXPECT_NEAR(ground.lap->ground_radius(), 0.5, 1e-6);
    job.damage.edge_radius = 3.9;
    const Error error = refused(job);
    EXPECT_EQ(error.kind, ErrorKind::bad_input);
    EXPECT_EQ(error.key, "damage.edge_radius");
    EXPECT_NE(error.what.find("value 3.9: the end is ground 4.0 mm deep"), std::string::npos)
        << error.what;
}

TEST(EndLap, TurnedRightBackFitsTheSkinAndThePliesOrIsRefused) {
    // By hand: twice the radius behind the face; a skin of 10 mm, 4 mm of plies and 1 mm that a
    // file takes off leave 15.
    job::Job job = cut_by_end();
    job.damage.edge_turn = 180.0;
    job.hull.skin = 10.0;
    job.damage.edge_radius = 7.5;
    EXPECT_NEAR(laid(job).lap->bend().turn, pi, 1e-12);
    job.damage.edge_radius = 7.6;
    const Error error = refused(job);
    EXPECT_EQ(error.key, "damage.edge_radius");
    EXPECT_NE(error.what.find("15.2 mm behind the finished face"), std::string::npos) << error.what;
    EXPECT_NE(error.what.find("with all plies is 14.0 mm"), std::string::npos) << error.what;
    job.damage.edge_turn = 170.0;
    EXPECT_TRUE(laid(job).lap) << "it does not lie behind the skin";
}

TEST(EndLap, IsRefusedOnTheFaceThatAHoleIsBackedOn) {
    job::Job job = cut_by_end();
    job.damage.through = true;
    job.damage.edge_turn = 175.0;
    const Error error = refused(job);
    EXPECT_EQ(error.kind, ErrorKind::bad_input);
    EXPECT_EQ(error.key, "damage.edge_turn");
    job.damage.edge_turn = 174.0;
    EXPECT_TRUE(laid(job).lap);
}

TEST(EndLap, IsRefusedOverACornerOfTheHull) {
    const Error error = refused(lapped(60.0, {970, 960, 0}));
    EXPECT_EQ(error.kind, ErrorKind::no_safe_answer);
    EXPECT_NE(error.message().find("corner"), std::string::npos) << error.message();
}

TEST(EndLap, OfAScanIsRefusedUntilItsEndIsTold) {
    // A scan may stop anywhere: only points along the boat's own end say that it ends there.
    job::Job job = scarf_at_end();
    job.hull.scan = job::HullScan{};
    const Error error = refused(job);
    EXPECT_EQ(error.kind, ErrorKind::bad_input);
    EXPECT_EQ(error.key, "damage.end");
    ASSERT_TRUE(error.place);
    EXPECT_NEAR(error.place->x(), 1000.0, 1e-3);
    job.damage.end = {{1000, -200, 0}, {1000, 0, 0}, {1000, 200, 0}};
    EXPECT_TRUE(laid(job).lap);
}

}  // namespace
}  // namespace tearline::ground

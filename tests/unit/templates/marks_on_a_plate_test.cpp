#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/templates/fold_lines.h"
#include "core/templates/make_grind_guide.h"
#include "core/templates/make_template.h"
#include "core/templates/opening_slit.h"
#include "core/templates/piece_outline.h"
#include "core/templates/ring_leaders.h"
#include "core/templates/tape_ticks.h"
#include "tests/support/loops.h"
#include "tests/unit/templates/plate.h"

namespace tearline::templates {
namespace {

/// Looking at a starboard side: x to the bow, y up, z at the onlooker.
damage::FlatFrame side_frame() {
    damage::FlatFrame frame;
    frame.middle = Vec3(0, 0, 0);
    return frame;
}

Directions side_directions() {
    return directions(side_frame(), Vec3(1, 0, 0), Vec3(0, 1, 0));
}

TEST(NetRegion, HasItsOuterLoopCounterClockwiseAndItsHolesTheOtherWay) {
    // By hand: 100 x 80 mm with a window of 20 x 20 mm.
    const auto piece = plate(10, 8, 10.0, {-50, -40},
                             [](int i, int j) { return i < 2 || i > 3 || j < 3 || j > 4; });
    const Region2 region = net_region(piece);
    EXPECT_NEAR(signed_area(region.outer), 8000.0, 1e-9);
    ASSERT_EQ(region.holes.size(), 1u);
    EXPECT_NEAR(signed_area(region.holes[0]), -400.0, 1e-9);
    // Points on straight sides are left out: four corners each.
    EXPECT_EQ(region.outer.size(), 4u);
    EXPECT_EQ(region.holes[0].size(), 4u);
}

TEST(NetRegion, RefusesAPieceThatLiesFaceDown) {
    auto piece = plate(2, 2, 10.0, {0, 0});
    for (Vec2& p : piece.flat) p.x() = -p.x();
    EXPECT_THROW((void)net_region(piece), std::logic_error);
}

TEST(EdgeCrossing, IsTheOutermostPlaceOnItsOwnSide) {
    // By hand: a plate from x -30 to 70 with a window about the origin: towards +x the plane y = 0
    // crosses the window's edge at 10 and the outer edge at 70; towards -x at -30.
    const auto piece = plate(10, 8, 10.0, {-30, -40},
                             [](int i, int j) { return i < 2 || i > 3 || j < 3 || j > 4; });
    const auto loops = surface::boundary_loops(piece.lay);
    const auto ahead = edge_crossing(piece, loops, {0, 0, 0}, {0, 1, 0}, {1, 0, 0});
    ASSERT_TRUE(ahead);
    EXPECT_NEAR((ahead->at - Vec2(70, 0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((ahead->outward - Vec2(1, 0)).norm(), 0.0, 1e-9);
    const auto back = edge_crossing(piece, loops, {0, 0, 0}, {0, 1, 0}, {-1, 0, 0});
    ASSERT_TRUE(back);
    EXPECT_NEAR((back->at - Vec2(-30, 0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((back->outward - Vec2(-1, 0)).norm(), 0.0, 1e-9);
    EXPECT_FALSE(edge_crossing(piece, loops, {0, 90, 0}, {0, 1, 0}, {1, 0, 0}))
        << "the plane y = 90 does not touch it";
}

TEST(DatumMarks, HaveTicksOnTheFourAxesWithWhatTheyPointTo) {
    // By hand: 8 mm in and 5 mm out of each edge of a plate of 100 x 80 mm about the middle.
    const auto marks =
        datum_marks(plate(10, 8, 10.0, {-50, -40}), side_frame(), side_directions(), 5.0);
    const auto ticks = all_of<Tick>(marks);
    ASSERT_EQ(ticks.size(), 4u);
    const std::array<std::pair<Vec2, const char*>, 4> wanted = {
        {{{50, 0}, "bow"}, {{0, 40}, "up"}, {{-50, 0}, "aft"}, {{0, -40}, "down"}}};
    for (std::size_t i = 0; i < 4; ++i) {
        const auto& [edge, towards] = wanted[i];
        EXPECT_EQ(ticks[i].towards, towards);
        EXPECT_NEAR((ticks[i].outer - (edge + 5.0 * edge.normalized())).norm(), 0.0, 1e-9);
        EXPECT_NEAR((ticks[i].inner - (edge - 8.0 * edge.normalized())).norm(), 0.0, 1e-9);
    }
}

TEST(DatumMarks, SizeCrossAndArrowsByTheRoomAboutTheMiddle) {
    // 40 mm to the nearest edge: arms of 6 mm, arrows from 8 mm on, 18 mm long.
    const auto marks =
        datum_marks(plate(10, 8, 10.0, {-50, -40}), side_frame(), side_directions(), 5.0);
    ASSERT_EQ(all_of<Datum>(marks).size(), 1u);
    EXPECT_NEAR(all_of<Datum>(marks)[0].arm, 6.0, 1e-9);
    const auto arrows = all_of<Arrow>(marks);
    ASSERT_EQ(arrows.size(), 2u);
    EXPECT_EQ(arrows[0].text, "BOW");
    EXPECT_NEAR((arrows[0].tail - Vec2(8, 0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((arrows[0].tip - Vec2(26, 0)).norm(), 0.0, 1e-9);
    EXPECT_EQ(arrows[1].text, "UP");
    EXPECT_NEAR((arrows[1].tip - Vec2(0, 26)).norm(), 0.0, 1e-9);
}

TEST(DatumMarks, ShowNoDatumOnAPieceThatLiesBesideTheMiddle) {
    // The arrows then stand at the roomiest point of the piece, (150, 0).
    const auto marks =
        datum_marks(plate(10, 8, 10.0, {100, -40}), side_frame(), side_directions(), 5.0);
    EXPECT_TRUE(all_of<Datum>(marks).empty());
    const auto arrows = all_of<Arrow>(marks);
    ASSERT_EQ(arrows.size(), 2u);
    EXPECT_GT(arrows[0].tail.x(), 130.0);
    EXPECT_NEAR(arrows[0].tail.y(), 0.0, 11.0);
}

TEST(DatumMarks, PointAlongThePiecesOwnWayToTheBow) {
    // Its own axis lies 10 degrees to the left of the paper's x.
    auto piece = plate(10, 8, 10.0, {-50, -40});
    piece.axis_from_degrees = 10.0;
    const auto arrows = all_of<Arrow>(datum_marks(piece, side_frame(), side_directions(), 5.0));
    const Vec2 way = (arrows[0].tip - arrows[0].tail).normalized();
    EXPECT_NEAR(std::atan2(way.y(), way.x()) * 180.0 / std::numbers::pi, 10.0, 1e-9);
}

TEST(DatumMarks, NameOneArrowForBothWhereUpIsTheWayOfTheBow) {
    auto piece = plate(10, 8, 10.0, {-50, -40});
    piece.axis_from_degrees = 90.0;
    const auto arrows = all_of<Arrow>(datum_marks(piece, side_frame(), side_directions(), 5.0));
    ASSERT_EQ(arrows.size(), 2u);
    EXPECT_EQ(arrows[0].text, "BOW AND UP");
    EXPECT_EQ(arrows[1].text, "");
}

job::Fabric cloth(job::FabricKind kind) {
    job::Fabric fabric;
    fabric.kind = kind;
    fabric.tear_margin = 20.0;
    fabric.lap = 50.0;
    return fabric;
}

Template made_of(const pieces::Piece& piece, const job::Fabric& fabric, double axis = 0.0,
                 bool round_fittings = false) {
    const damage::FlatFrame frame = side_frame();
    const Directions where = side_directions();
    TemplateRequest request{piece, fabric, axis, frame, where, {}};
    request.round_fittings = round_fittings;
    return make_template(request);
}

TEST(MakeTemplateOfAPlate, TearsByTheMarginWithRoundCornersAndRoundAHoleToo) {
    // Steiner: A + P m + pi m2 outside; inside the hole's edge is torn 20 mm into it, so that none
    // is left of a window of 20 x 20 mm.
    const auto piece = plate(10, 8, 10.0, {-50, -40},
                             [](int i, int j) { return i < 2 || i > 3 || j < 3 || j > 4; });
    const Template torn = made_of(piece, cloth(job::FabricKind::mat));
    EXPECT_NEAR(torn.area_mm2, 8000.0 + 360.0 * 20.0 + std::numbers::pi * 400.0, 2.0);
    EXPECT_TRUE(torn.tear->holes.empty());
    // Round a fitting that stays nothing may reach into the hole: its edge is cut.
    const Template cut = made_of(piece, cloth(job::FabricKind::mat), 0.0, true);
    ASSERT_EQ(cut.tear->holes.size(), 1u);
    EXPECT_NEAR(std::abs(signed_area(cut.tear->holes[0])), 400.0, 1e-9);
    EXPECT_NEAR(cut.area_mm2, torn.area_mm2 - 400.0, 1e-6);
}

TEST(MakeTemplateOfAPlate, DrawsTheRollOfClothAsItCameOutAndNoneOfMat) {
    auto piece = plate(10, 8, 10.0, {-50, -40});
    EXPECT_TRUE(all_of<Fibre>(made_of(piece, cloth(job::FabricKind::mat)).marks).empty());
    piece.warp_degrees = 32.0;
    piece.axis_from_degrees = 2.0;
    const Template woven = made_of(piece, cloth(job::FabricKind::woven), 30.0);
    const auto fibres = all_of<Fibre>(woven.marks);
    ASSERT_EQ(fibres.size(), 1u);
    const Vec2 way = fibres[0].to - fibres[0].from;
    EXPECT_NEAR(std::atan2(way.y(), way.x()) * 180.0 / std::numbers::pi, 32.0, 1e-9);
    EXPECT_NEAR(way.norm(), 24.0, 1e-9);  // 0.6 of the room of 40 mm
    EXPECT_NEAR(woven.warp_degrees, 32.0, 1e-9);
    EXPECT_NEAR(woven.axis_degrees, 30.0, 1e-9);
    // Turned by 4 degrees to lie down, it is told as 34 though 394 is the same line.
    piece.warp_degrees = 396.0;
    EXPECT_NEAR(made_of(piece, cloth(job::FabricKind::woven), 30.0).axis_degrees, 34.0, 1e-9);
}

TEST(MakeTemplateOfAPlate, RingsThePlaceThatIsPressedDownFirst) {
    auto piece = plate(10, 8, 10.0, {-50, -40});
    EXPECT_TRUE(all_of<PressFirst>(made_of(piece, cloth(job::FabricKind::woven)).marks).empty());
    piece.press_first = Vec2(12, 7);
    const auto rings = all_of<PressFirst>(made_of(piece, cloth(job::FabricKind::woven)).marks);
    ASSERT_EQ(rings.size(), 1u);
    EXPECT_NEAR((rings[0].middle - Vec2(12, 7)).norm(), 0.0, 1e-9);
}

TEST(Folds, LieAsFarAsTheyAreOnThePiece) {
    // A line x = 20 from far below to far above: on the plate from y -40 to 40, in its own order.
    const auto piece = plate(10, 8, 10.0, {-50, -40});
    std::vector<Mark> marks;
    add_folds(piece, {{{{20, 100}, {20, -100}}, "BEND"}, {{{200, 0}, {300, 0}}, "BESIDE IT"}},
              marks);
    const auto folds = all_of<Fold>(marks);
    ASSERT_EQ(folds.size(), 1u);
    EXPECT_EQ(folds[0].text, "BEND");
    EXPECT_EQ(folds[0].line.front(), Vec2(20, 40));
    EXPECT_EQ(folds[0].line.back(), Vec2(20, -40));
}

TapeWay tape(const std::string& mark, double length, const Vec2& way) {
    TapeWay out{mark, length, 5.0, {}};
    for (int i = 0; i <= 40; ++i) out.chart.push_back(5.0 * i * way);
    return out;
}

TEST(TapeTicks, SayHowFarTheMarkIsFromTheEdgeNotFromTheMiddle) {
    // By hand: 412 mm from the middle straight ahead, the edge at 50: 362 mm are left, 14 1/4 in.
    const auto piece = plate(10, 8, 10.0, {-50, -40});
    std::vector<Mark> marks;
    add_tape_ticks(piece, {tape("A", 412.0, {1, 0})}, marks);
    add_tape_ticks(piece, {tape("A", 412.0, {1, 0})}, marks, Units::us);
    const auto tapes = all_of<Tape>(marks);
    ASSERT_EQ(tapes.size(), 2u);
    EXPECT_EQ(tapes[0].text, "A 362 mm");
    EXPECT_EQ(tapes[1].text, "A 14 1/4 in");
    EXPECT_NEAR((tapes[0].outer - Vec2(50, 0)).norm(), 0.0, 1e-6);
    EXPECT_NEAR((tapes[0].inner - Vec2(42, 0)).norm(), 0.0, 1e-6);
}

TEST(TapeTicks, StandWhereATapeLeavesThePieceForTheLastTime) {
    // A window from x 10 to 20 lies across the tape: the tick is on the outer edge behind it.
    const auto piece =
        plate(10, 8, 10.0, {-50, -40}, [](int i, int j) { return i != 6 || j < 3 || j > 4; });
    std::vector<Mark> marks;
    TapeWay way = tape("B", 300.0, {1, 0});
    for (Vec2& p : way.chart) p.y() = 2.0;
    add_tape_ticks(piece, {way}, marks);
    ASSERT_EQ(all_of<Tape>(marks).size(), 1u);
    EXPECT_NEAR(all_of<Tape>(marks)[0].outer.x(), 50.0, 1e-6);
    // One that ends on the piece leaves it nowhere.
    marks.clear();
    way.chart.resize(5);
    add_tape_ticks(piece, {way}, marks);
    EXPECT_TRUE(marks.empty());
}

/// 200 x 200 mm about the middle with windows of one cell of 20 mm.
pieces::Piece windowed(const std::vector<std::pair<int, int>>& windows) {
    return plate(10, 10, 20.0, {-100, -100}, [&windows](int i, int j) {
        return std::find(windows.begin(), windows.end(), std::pair(i, j)) == windows.end();
    });
}

std::optional<OpeningSlit> slit_of(const pieces::Piece& piece, const Vec3& middle,
                                   const std::optional<double>& before = {}) {
    Template outline;
    outline.net = net_region(piece);
    return opening_slit(piece, outline, middle, before).value();
}

TEST(OpeningSlitOfAPlate, GoesStraightDownFromTheHoleToTheEdge) {
    // The window of cell (5, 5) lies about (10, 10), 20 mm wide: from y 0 down to -100.
    const auto slit = slit_of(windowed({{5, 5}}), {10, 10, 0});
    ASSERT_TRUE(slit);
    EXPECT_NEAR(slit->degrees, -90.0, 1e-9);
    EXPECT_EQ(slit->cut.kind, "slit");
    ASSERT_EQ(slit->cut.points.size(), 2u);
    EXPECT_NEAR((slit->cut.points[0] - Vec2(10, 0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((slit->cut.points[1] - Vec2(10, -100)).norm(), 0.0, 1e-9);
}

TEST(OpeningSlitOfAPlate, LiesAQuarterFromThatOfThePlyBelow) {
    const auto slit = slit_of(windowed({{5, 5}}), {10, 10, 0}, -90.0);
    ASSERT_TRUE(slit);
    EXPECT_NEAR(slit->degrees, 0.0, 1e-9);
    EXPECT_NEAR((slit->cut.points[1] - Vec2(100, 10)).norm(), 0.0, 1e-9);
}

TEST(OpeningSlitOfAPlate, TurnsAsideWhereAnotherHoleIsInTheWay) {
    // By hand: the window of cell (5, 2) is 20 mm wide, its middle 60 mm below the hole's. A line t
    // degrees aside passes its nearest corner 60 sin t - 10 (sin t + cos t) off: 3 mm at 15, 16 at
    // 30, which would part; 28 at 45.
    const auto slit = slit_of(windowed({{5, 5}, {5, 2}}), {10, 10, 0});
    ASSERT_TRUE(slit);
    EXPECT_NEAR(slit->degrees, -45.0, 1e-9);
}

TEST(OpeningSlitOfAPlate, LeavesTheWidestStripWhereAllAreNarrow) {
    // By hand: windows of 20 mm, their middles 40 mm above, below and to the left, and a slit that
    // may lie from 90 to 270 degrees after one at 0. Half way between two, at 135 or 225, it
    // passes both 40 sin 45 - 10 (sin 45 + cos 45) = 14 mm off; 15 degrees aside 6 mm.
    const auto slit = slit_of(windowed({{5, 5}, {5, 7}, {3, 5}, {5, 3}}), {10, 10, 0}, 0.0);
    ASSERT_TRUE(slit);
    EXPECT_NEAR(std::abs(slit->degrees), 135.0, 1e-9);
}

TEST(OpeningSlitOfAPlate, IsNoneWhereThePieceHasNoHoleThere) {
    EXPECT_FALSE(slit_of(windowed({{5, 5}}), {-70, -70, 0}));
    EXPECT_FALSE(slit_of(windowed({}), {10, 10, 0}));
}

TEST(OpeningSlitOfAPlate, IsRefusedWhereHolesLieAllRound) {
    // A hole like a C about it, open to the right: in the way from 90 to 270 degrees, which is
    // where a slit a quarter and more from one to the right may go.
    std::vector<std::pair<int, int>> windows{{5, 5}};
    for (int k = 1; k <= 8; ++k) windows.emplace_back(2, k);
    for (int k = 3; k <= 8; ++k) {
        windows.emplace_back(k, 1);
        windows.emplace_back(k, 8);
    }
    Template outline;
    const auto piece = windowed(windows);
    outline.net = net_region(piece);
    const auto slit = opening_slit(piece, outline, {10, 10, 0}, 0.0);
    ASSERT_FALSE(slit);
    EXPECT_NE(slit.error().message().find("take the fitting out"), std::string::npos);
}

// Words of the guide.

std::string ring_words(const RingRequest& request, Units units = Units::metric) {
    const GrindGuide guide = make_grind_guide(plate(10, 8, 10.0, {-50, -40}), side_frame(),
                                              side_directions(), {request}, units);
    return guide.rings.front().text;
}

const Loop2 small_loop = {{-10, -10}, {10, -10}, {10, 10}, {-10, 10}};

TEST(GrindGuideWords, SayHowDeepToGrindOnEachRing) {
    EXPECT_EQ(ring_words({{small_loop}, 8.41, 0}), "DAMAGE: GRIND TO 8.4 mm");
    EXPECT_EQ(ring_words({{small_loop}, 4.2, 3}), "PLY 3  DEPTH 4.2 mm");
    EXPECT_EQ(ring_words({{small_loop}, 0.04, 3}), "PLY 3  DEPTH 0") << "0.0 mm is none";
    EXPECT_EQ(ring_words({{small_loop}, 0.0, -1}), "SCARF EDGE: DEPTH 0");
    EXPECT_EQ(ring_words({{small_loop}, 1.2, -3}), "TOO STEEP: GRIND UP TO 1.2 mm MORE IN HERE");
    EXPECT_EQ(ring_words({{small_loop}, 2.0, 7, true}), "COVER PLY 7: NO GRINDING");
}

TEST(GrindGuideWords, SayDepthsInThousandthsAsTheSheetsRuleHasIt) {
    // 8.41 mm are 0.331 in; to the nearest 1/32 it would be 11/32, 0.3 mm deeper and 4 mm of scarf.
    EXPECT_EQ(ring_words({{small_loop}, 8.41, 0}, Units::us), "DAMAGE: GRIND TO 0.331 in");
    EXPECT_EQ(ring_words({{small_loop}, 1.27, 2}, Units::us), "PLY 2  DEPTH 0.050 in");
    EXPECT_EQ(ring_words({{small_loop}, 4.0, -3}, Units::us),
              "TOO STEEP: GRIND UP TO 0.157 in MORE IN HERE");
}

TEST(GrindGuideWords, EndWithTheLineToWhichGelCoatComesOff) {
    const GrindGuide guide = make_grind_guide(plate(10, 8, 10.0, {-50, -40}), side_frame(),
                                              side_directions(), {{{small_loop}, 2.0, 1}});
    ASSERT_EQ(guide.rings.size(), 2u);
    EXPECT_EQ(guide.rings.back().text, "GEL COAT OFF TO HERE");
    EXPECT_EQ(guide.rings.back().ply, -2);
    EXPECT_NEAR(std::abs(signed_area(guide.rings.back().loops.front())), 8000.0, 1e-9)
        << "round all that the repair touches";
}

// Leaders.

GrindGuide rings_apart(double step) {
    GrindGuide guide;
    guide.marks = {Datum{{0, 0}, 5.0}};
    double radius = 40.0;
    for (int ply = 1; ply <= 6; ++ply, radius += step)
        guide.rings.push_back({{test::circle(radius, {0, 0}, 180)},
                               "PLY " + std::to_string(ply) + "  DEPTH 2.0 mm",
                               2.0,
                               ply});
    guide.footprint.outer = test::circle(radius + 20.0, {0, 0}, 180);
    return guide;
}

TEST(RingLeaders, AreNoneWhereNamesHaveRoomBesideTheirRings) {
    GrindGuide guide = rings_apart(12.0);
    add_ring_leaders(guide);
    for (const GrindGuide::Ring& ring : guide.rings) EXPECT_TRUE(ring.leader.empty());
}

TEST(RingLeaders, LeadEachNameFromItsOwnRingPastTheFootprintWithoutCrossing) {
    GrindGuide guide = rings_apart(2.0);
    add_ring_leaders(guide);
    double radius = 40.0;
    std::vector<std::vector<Vec2>> lines;
    for (const GrindGuide::Ring& ring : guide.rings) {
        ASSERT_EQ(ring.leader.size(), 3u) << ring.text;
        EXPECT_NEAR(ring.leader[0].norm(), radius, 0.05) << "it begins on its ring";
        EXPECT_GT(std::abs(ring.leader[1].x()), radius);
        EXPECT_GT(std::abs(ring.leader[2].x()), 72.0) << "beyond the footprint";
        EXPECT_EQ(ring.leader[0].y(), ring.leader[1].y()) << "level first";
        lines.push_back(ring.leader);
        radius += 2.0;
    }
    const auto crosses = [](const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
        const double s = cross2(b - a, c - a), t = cross2(b - a, d - a);
        const double u = cross2(d - c, a - c), v = cross2(d - c, b - c);
        return s * t < 0.0 && u * v < 0.0;
    };
    for (std::size_t i = 0; i < lines.size(); ++i)
        for (std::size_t k = i + 1; k < lines.size(); ++k)
            for (std::size_t m = 1; m < 3; ++m)
                for (std::size_t n = 1; n < 3; ++n)
                    EXPECT_FALSE(
                        crosses(lines[i][m - 1], lines[i][m], lines[k][n - 1], lines[k][n]));
    // Names one under the other, 5 mm apart, none on another.
    for (std::size_t i = 1; i < lines.size(); ++i)
        EXPECT_NEAR(std::abs(lines[i][2].y() - lines[i - 1][2].y()), 5.0, 1e-9);
}

}  // namespace
}  // namespace tearline::templates

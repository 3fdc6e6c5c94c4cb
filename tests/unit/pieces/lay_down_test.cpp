#include "core/pieces/lay_down.h"

#include <gtest/gtest.h>

#include <numbers>

#include "core/pieces/relief_cuts.h"
#include "core/pieces/seams.h"
#include "core/plane/nearest_on_line.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/loops.h"
#include "tests/support/mesh_checks.h"

namespace tearline::pieces {
namespace {

Region2 disc(double radius, const Vec2& centre = {0, 0}) {
    return {test::circle(radius, centre, 240), {}};
}

PlyShape shape_on(const surface::Patch& patch, double radius, job::FabricKind kind) {
    PlyShape shape;
    shape.patch = &patch;
    shape.region = disc(radius);
    shape.depth = [](const Vec2&) { return 0.0; };
    shape.ply = 3;
    shape.fabric.name = "cloth of the test";
    shape.fabric.kind = kind;
    shape.fabric.roll_width = 5000.0;
    return shape;
}

Result<LaidDown> laid(const PlyShape& shape, std::span<const Band> before = {},
                      std::span<const Band> two_before = {}) {
    const auto whole = lay_with_lines(shape, {});
    EXPECT_TRUE(whole) << whole.error().message();
    return lay_down(shape, *whole, before, two_before);
}

double lay_area(const LaidDown& laid) {
    double sum = 0.0;
    for (const Piece& piece : laid.pieces) sum += test::facet_area(piece.lay);
    return sum;
}

CutLines lines_of(const LaidDown& laid) {
    CutLines lines;
    for (const Band& band : laid.bands) lines.push_back(band.line);
    return lines;
}

bool warns(const LaidDown& laid, const std::string& code) {
    return std::any_of(laid.warnings.begin(), laid.warnings.end(),
                       [&](const Warning& w) { return w.code() == code; });
}

const surface::Patch& ball() {
    // K a^2 / 8 (SOURCES.md section 6): at 200 mm on a radius of 300 mm mat gives 5.6 % in one.
    static const surface::Patch patch =
        test::analytic_patch(test::sphere_map(300.0), test::within_disc(270), 280, 12);
    return patch;
}

TEST(LayDown, LeavesAGentleShapeWholeAndSaysNothing) {
    const auto patch =
        test::analytic_patch(test::sphere_map(1000.0), test::within_disc(230), 240, 12);
    for (const auto kind : {job::FabricKind::mat, job::FabricKind::woven}) {
        const auto found = laid(shape_on(patch, 200.0, kind));
        ASSERT_TRUE(found) << found.error().message();
        EXPECT_EQ(found->pieces.size(), 1u);
        EXPECT_TRUE(found->pieces[0].cuts.empty());
        EXPECT_TRUE(found->bands.empty());
        EXPECT_TRUE(found->warnings.empty());
    }
}

TEST(LayDown, HelpsMatOnASteepCapUntilEveryPieceIsUnderItsLimit) {
    const PlyShape shape = shape_on(ball(), 220.0, job::FabricKind::mat);
    const auto found = laid(shape);
    ASSERT_TRUE(found) << found.error().message();
    EXPECT_TRUE(warns(*found, "relief-cuts") || warns(*found, "laid-in-pieces"));
    EXPECT_FALSE(warns(*found, "seam-through-middle"));
    for (const Piece& piece : found->pieces) EXPECT_LE(piece.strain_max, 0.05);
    // Closed form of the cap: 2 pi R^2 (1 - cos(r/R)).
    const double cap = 2.0 * std::numbers::pi * 300.0 * 300.0 * (1.0 - std::cos(220.0 / 300.0));
    EXPECT_NEAR(lay_area(*found) / cap, 1.0, 2e-3);
    EXPECT_GE(plane::distance_to_lines(lines_of(*found), {0, 0}), 15.0);
}

TEST(LayDown, TearsMatInPiecesWhereCutsDoNotServe) {
    PlyShape shape = shape_on(ball(), 220.0, job::FabricKind::mat);
    shape.fabric.strain_limit = 0.015;
    const auto found = laid(shape);
    ASSERT_TRUE(found) << found.error().message();
    EXPECT_GT(found->pieces.size(), 1u);
    EXPECT_EQ(found->pieces[1].id, "3B");
    for (const Piece& piece : found->pieces) EXPECT_LE(piece.strain_max, 0.015);
}

TEST(LayDown, PartsClothThatWouldShearTooFar) {
    PlyShape shape = shape_on(ball(), 220.0, job::FabricKind::woven);
    shape.fabric.shear_limit = 8.0;  // in one it shears by 14
    const auto found = laid(shape);
    ASSERT_TRUE(found) << found.error().message();
    EXPECT_GT(found->pieces.size(), 1u);
    EXPECT_TRUE(warns(*found, "laid-in-pieces"));
    for (const Piece& piece : found->pieces) {
        EXPECT_LE(*piece.shear_max, 8.0);
        EXPECT_FALSE(piece.seams.empty());
    }
}

/// The rim of a flat lid on a can of radius R: the lid where x < 0, the wall where x > 0. The chart
/// is arc length along the rim and distance from it.
test::AnalyticMap can_map(double R) {
    return [R](const Vec2& p, int side) {
        const double a = p.y() / R;
        const Vec3 out(std::cos(a), std::sin(a), 0.0);
        if (side < 0) return surface::SurfaceSample{(R + p.x()) * out, {0, 0, 1}, 0.0, 0.0};
        return surface::SurfaceSample{R * out - Vec3(0, 0, p.x()), out, 0.0, 1.0 / R};
    };
}

TEST(LayDown, PartsMatAlongACurvedCrease) {
    // Lid and wall each lie down without strain (a plane; a cylinder), which no other way to part
    // them reaches: in one, the wall must bend in its own plane to the rim's radius.
    const auto patch = test::analytic_patch(can_map(400.0), test::within_disc(150), 160, 8, true);
    for (const double depth : {0.0, -1.0}) {  // above a convex crease the cloth goes round an arc
        PlyShape shape = shape_on(patch, 120.0, job::FabricKind::mat);
        shape.middle = {-60.0, 0.0};
        shape.depth = [depth](const Vec2&) { return depth; };
        shape.fabric.strain_limit = 0.005;  // straight seams leave 2 % to 2 pieces
        const auto found = laid(shape);
        ASSERT_TRUE(found) << found.error().message();
        ASSERT_EQ(found->pieces.size(), 2u);
        EXPECT_TRUE(warns(*found, "laid-in-pieces"));
        EXPECT_FALSE(warns(*found, "seam-through-middle"));
        for (const Piece& piece : found->pieces)
            EXPECT_LE(piece.strain_max, depth == 0.0 ? 1e-4 : 0.005);
        for (const Band& band : found->bands)
            for (const Vec2& p : band.line) EXPECT_NEAR(p.x(), 0.0, 1e-9);
    }
}

TEST(LayDown, LaysNoCreaseSeamOverThatOfThePlyBefore) {
    const auto patch = test::analytic_patch(can_map(400.0), test::within_disc(150), 160, 8, true);
    PlyShape shape = shape_on(patch, 120.0, job::FabricKind::mat);
    shape.middle = {-60.0, 0.0};
    shape.fabric.strain_limit = 0.005;
    const auto first = laid(shape);
    ASSERT_TRUE(first) << first.error().message();
    const auto next = laid(shape, first->bands);
    ASSERT_FALSE(next);  // nothing but the crease serves, and its seam is taken
    EXPECT_EQ(next.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(next.error().message().find("within 50 mm of one of the ply before"),
              std::string::npos)
        << next.error().message();
}

/// Roundness of the worst triangle on the table: 1 equilateral, 0 a line.
double worst_triangle(const LaidDown& laid) {
    double worst = 1.0;
    for (const Piece& piece : laid.pieces)
        for (const auto& v : piece.lay.triangle) {
            const Vec2 &a = piece.flat[v[0]], &b = piece.flat[v[1]], &c = piece.flat[v[2]];
            const double edges =
                (b - a).squaredNorm() + (c - b).squaredNorm() + (a - c).squaredNorm();
            worst = std::min(worst, 2.0 * std::sqrt(3.0) * cross2(b - a, c - a) / edges);
        }
    return worst;
}

TEST(LayDown, LeavesNoSliversAlongSeams) {
    // Seams that end on the outline, and seams that cross one another.
    bool crossed = false;
    for (const double limit : {8.0, 5.0, 3.0, 2.5}) {
        PlyShape shape = shape_on(ball(), 220.0, job::FabricKind::woven);
        shape.fabric.shear_limit = limit;
        const auto found = laid(shape);
        ASSERT_TRUE(found) << found.error().message();
        EXPECT_GT(found->pieces.size(), 1u);
        EXPECT_GT(worst_triangle(*found), 0.1) << "limit " << limit;
        crossed = crossed || found->pieces.size() > found->bands.size() + 1;
    }
    EXPECT_TRUE(crossed);
}

TEST(LayDown, PartsWhatIsWiderThanTheRoll) {
    // Flat disc of 600 mm on a roll of 500: two pieces, the lap of 50 mm between them; mat with its
    // torn bands of 20 mm likewise.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(330), 340, 15);
    for (const auto kind : {job::FabricKind::mat, job::FabricKind::woven}) {
        PlyShape shape = shape_on(patch, 300.0, kind);
        shape.fabric.roll_width = 500.0;
        shape.entry.axis = 30.0;
        const auto found = laid(shape);
        ASSERT_TRUE(found) << found.error().message();
        EXPECT_EQ(found->pieces.size(), 2u);
        for (const Piece& piece : found->pieces)
            EXPECT_LE(roll_need(piece, shape.fabric), 500.0) << piece.id;
        EXPECT_NE(found->warnings.at(0).words().told.find("roll_width of 500 mm"),
                  std::string::npos);
        EXPECT_GE(plane::distance_to_lines(lines_of(*found), {0, 0}), 15.0);
    }
}

/// Flat cloth in a disc, from a roll, its laps 50 mm wide.
Result<LaidDown> flat_cloth(double radius, double roll_width, std::span<const Band> before = {}) {
    static const auto patch =
        test::analytic_patch(test::plane_map, test::within_disc(330), 340, 15);
    PlyShape shape = shape_on(patch, radius, job::FabricKind::woven);
    shape.fabric.roll_width = roll_width;
    return laid(shape, before);
}

TEST(LayDown, PartsAcrossTheMiddleWhereNothingElseServesAndWarns) {
    // A disc of 260 mm off a roll of 190: three strips would be 87 mm wide, under the 90 of a piece
    // to handle with its laps; two of 130 + 50 fit, but moved off the middle by 15 + 25 mm one
    // would need 220.
    const auto found = flat_cloth(130.0, 190.0);
    ASSERT_TRUE(found) << found.error().message();
    EXPECT_EQ(found->pieces.size(), 2u);
    EXPECT_LT(plane::distance_to_lines(lines_of(*found), {0, 0}), 40.0);
    ASSERT_TRUE(warns(*found, "seam-through-middle"));
    EXPECT_NE(found->warnings.back().words().told.find("across the middle of the damage"),
              std::string::npos);
}

TEST(LayDown, KeepsOffTheMiddleWhereSomethingElseServes) {
    // A roll of 230 lets the seam of the same disc be moved; on a disc of 300 mm and a roll of 210
    // two strips would fit with their seam across the middle, but three keep clear of it.
    for (const auto& [radius, roll, pieces] :
         {std::tuple{130.0, 230.0, 2u}, std::tuple{150.0, 210.0, 3u}}) {
        const auto found = flat_cloth(radius, roll);
        ASSERT_TRUE(found) << found.error().message();
        EXPECT_EQ(found->pieces.size(), pieces);
        EXPECT_FALSE(warns(*found, "seam-through-middle"));
        EXPECT_GE(plane::distance_to_lines(lines_of(*found), {0, 0}), 40.0);
    }
}

TEST(LayDown, KeepsLapsOfSuccessivePliesFiftyMillimetresApart) {
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(330), 340, 15);
    PlyShape shape = shape_on(patch, 300.0, job::FabricKind::woven);
    shape.fabric.roll_width = 500.0;
    const auto first = laid(shape);
    ASSERT_TRUE(first) << first.error().message();
    const auto second = laid(shape, first->bands);
    ASSERT_TRUE(second) << second.error().message();
    // 25 mm of lap to either side of both seams and 50 mm between.
    EXPECT_GE(distance_alongside(lines_of(*second), lines_of(*first)), 100.0);
}

TEST(LayDown, LaysInPiecesWhatMayNotBeCutAndTellsWhetherThePlyBeforeLeavesRoom) {
    // Lines before it every 60 mm, four ways turned: whatever the direction, some run alongside.
    const PlyShape shape = shape_on(ball(), 220.0, job::FabricKind::mat);
    const auto whole = lay_with_lines(shape, {});
    ASSERT_TRUE(whole) << whole.error().message();
    const auto plain = lay_whole(shape, *whole);
    const auto parted = lay_down_beside(shape, *whole, plain, {{}, {}, false});
    ASSERT_TRUE(parted) << parted.error().error.message();
    EXPECT_GT(parted->pieces.size(), 1u);
    for (const Piece& piece : parted->pieces) EXPECT_TRUE(piece.cuts.empty());
    std::vector<Band> everywhere;
    for (const double turn : {0.0, 45.0, 90.0, 135.0})
        for (double off = -240.0; off <= 240.0; off += 60.0) {
            const double a = turn * std::numbers::pi / 180.0;
            const Vec2 u(std::cos(a), std::sin(a)), v(-u.y(), u.x());
            everywhere.push_back({{off * v - 300.0 * u, off * v + 300.0 * u}, 0.0});
        }
    const auto crowded = lay_down_beside(shape, *whole, plain, {everywhere, {}, true});
    ASSERT_FALSE(crowded);
    EXPECT_TRUE(crowded.error().crowded);
}

TEST(LayDown, KeepsClearOfThePlyTwoBeforeWhereThatCostsNothing) {
    // Two strips of a disc of 600 mm off a roll of 500. Laps of 20 mm and 50 between them: there is
    // room for a third seam clear of two. Laps of 50 mm leave none; it then takes two strips still.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(330), 340, 15);
    PlyShape shape = shape_on(patch, 300.0, job::FabricKind::woven);
    shape.fabric.roll_width = 500.0;
    for (const double lap : {20.0, 50.0}) {
        shape.fabric.lap = lap;
        const auto first = laid(shape);
        const auto second = laid(shape, first->bands);
        const auto third = laid(shape, second->bands, first->bands);
        ASSERT_TRUE(third) << third.error().message();
        EXPECT_EQ(third->pieces.size(), 2u);
        EXPECT_GE(distance_alongside(lines_of(*third), lines_of(*second)), 50.0 + lap);
        if (lap < 50.0) {
            EXPECT_GE(distance_alongside(lines_of(*third), lines_of(*first)), 50.0 + lap);
        }
    }
}

TEST(LayDown, PressesDownFirstWhereTheJobSays) {
    PlyShape shape = shape_on(ball(), 150.0, job::FabricKind::woven);
    shape.press_first = Vec2(60.0, -20.0);
    const auto found = laid(shape);
    ASSERT_TRUE(found) << found.error().message();
    EXPECT_EQ(*found->pieces.at(0).press_first, Vec2(60.0, -20.0));
}

TEST(LayDown, RefusesWhatNothingHelpsAndSaysWhatWould) {
    PlyShape shape = shape_on(ball(), 220.0, job::FabricKind::mat);
    shape.fabric.strain_limit = 0.0005;
    const auto mat = laid(shape);
    ASSERT_FALSE(mat);
    EXPECT_EQ(mat.error().kind, ErrorKind::no_safe_answer);
    for (const char* word : {"strain_limit of 0.05 %", "near (", "scarf.ratio", "fillet"})
        EXPECT_NE(mat.error().message().find(word), std::string::npos) << mat.error().message();
    shape.fabric.kind = job::FabricKind::woven;
    shape.fabric.shear_limit = 0.3;
    const auto cloth = laid(shape);
    ASSERT_FALSE(cloth);
    for (const char* word :
         {"shear_limit of 0.3 degrees", "near (", "mat", "scarf.ratio", "fillet"})
        EXPECT_NE(cloth.error().message().find(word), std::string::npos) << cloth.error().message();
}

TEST(LayDown, RefusesWhatNoDivisionFitsTheRollAndAsksForAWiderOne) {
    // Nine strips of a disc of 600 mm are 67 mm wide, under the 90 of a piece to handle.
    const auto cloth = flat_cloth(300.0, 100.0);
    ASSERT_FALSE(cloth);
    EXPECT_EQ(cloth.error().kind, ErrorKind::no_safe_answer);
    for (const char* word : {"600 mm wide", "roll_width of 100 mm", "a wider roll", "narrower lap"})
        EXPECT_NE(cloth.error().message().find(word), std::string::npos) << cloth.error().message();
    EXPECT_EQ(cloth.error().message().find("shear_limit"), std::string::npos);
}

}  // namespace
}  // namespace tearline::pieces

#include "core/pieces/seams.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "core/pieces/crease_seams.h"
#include "core/pieces/seam_runs.h"
#include "core/pieces/split_search.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/lay_surface_of.h"
#include "tests/support/remesh_meshes.h"

namespace tearline::pieces {
namespace {

using std::numbers::pi;

Region2 box(double half_x, double half_y) {
    return {{{-half_x, -half_y}, {half_x, -half_y}, {half_x, half_y}, {-half_x, half_y}}, {}};
}

Region2 turned(Region2 region, double angle, const Vec2& by) {
    const Eigen::Rotation2Dd turn(angle);
    for (Vec2& p : region.outer) p = turn * p + by;
    for (Loop2& hole : region.holes)
        for (Vec2& p : hole) p = turn * p + by;
    return region;
}

TEST(ExtentOf, ARectangleIsItsSidesHoweverItLies) {
    for (const double angle : {0.0, 0.4, 1.2, -0.9}) {
        const Extent extent = extent_of(turned(box(120, 30), angle, {40, -7}));
        EXPECT_LT((extent.centre - Vec2(40, -7)).norm(), 1e-9);
        EXPECT_NEAR(std::abs(std::sin(extent.angle - angle)), 0.0, 1e-9) << angle;
        EXPECT_NEAR(extent.half_long, 120.0, 1e-9);
        EXPECT_NEAR(extent.half_wide, 30.0, 1e-9);
    }
}

TEST(ExtentOf, ATriangleLiesAboutItsCentroid) {
    // The centroid is the mean of the corners; far from the origin too, where moments cancel.
    const Vec2 far(5e4, -3e4);
    const Region2 triangle{{far + Vec2(0, 0), far + Vec2(90, 0), far + Vec2(0, 30)}, {}};
    EXPECT_LT((extent_of(triangle).centre - far - Vec2(30, 10)).norm(), 1e-6);
}

TEST(Seams, EvenSeamsCutTheBreadthIntoEqualCells) {
    // By hand: 240 mm in 4 columns, 60 mm in 2 rows, moved by a tenth of a cell.
    const Seams seams = even_seams(box(120, 30), 0.0, {4, 2}, {0.1, 0.0});
    ASSERT_EQ(seams.across.size(), 3u);
    EXPECT_NEAR(seams.across[0], -120 + 60 + 6, 1e-12);
    EXPECT_NEAR(seams.across[1], 6, 1e-12);
    EXPECT_NEAR(seams.across[2], 66, 1e-12);
    ASSERT_EQ(seams.along.size(), 1u);
    EXPECT_NEAR(seams.along[0], 0.0, 1e-12);
    EXPECT_TRUE(even_seams(box(120, 30), 0.3, {1, 1}, {0, 0}).empty());
    // Turned with the region they cut the same way.
    const Seams slanted = even_seams(turned(box(120, 30), 0.7, {0, 0}), 0.7, {4, 2}, {0.1, 0.0});
    for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(slanted.across[i], seams.across[i], 1e-9);
}

TEST(Seams, CellsCountRowByRow) {
    const Seams seams{0.0, {-10, 20}, {5}};
    EXPECT_EQ(seams.cell({-50, 0}), 0);
    EXPECT_EQ(seams.cell({0, 0}), 1);
    EXPECT_EQ(seams.cell({30, 0}), 2);
    EXPECT_EQ(seams.cell({-50, 9}), 3);
    EXPECT_EQ(seams.cell({30, 9}), 5);
    // Directions are those of the seams: a quarter turn makes rows of columns.
    const Seams upright{pi / 2, {0.0}, {}};
    EXPECT_EQ(upright.cell({7, -1}), 0);
    EXPECT_EQ(upright.cell({7, 1}), 1);
}

TEST(Seams, PartsHoldThePlacesOfOneCellEach) {
    // Property: every place of the region lies in one part, and all of a part's in one cell.
    Region2 ring{{}, {{}}};
    for (int i = 0; i < 90; ++i) {
        ring.outer.emplace_back(150 * std::cos(2 * pi * i / 90), 90 * std::sin(2 * pi * i / 90));
        ring.holes[0].emplace_back(40 * std::cos(-2 * pi * i / 90),
                                   40 * std::sin(-2 * pi * i / 90));
    }
    const Seams seams = even_seams(ring, 0.5, {3, 2}, {0.0, 0.15});
    const auto parts = divided(ring, seams);
    double sum = 0.0;
    for (const Region2& part : parts) sum += area(part);
    EXPECT_NEAR(sum, area(ring), 0.01);
    std::mt19937 random(6);  // fixed start value
    std::uniform_real_distribution<double> across(-150.0, 150.0);
    std::vector<int> cell_of(parts.size(), -1);
    for (int k = 0; k < 1500; ++k) {
        const Vec2 p(across(random), 0.6 * across(random));
        int holding = 0;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (!contains(parts[i], p)) continue;
            ++holding;
            if (cell_of[i] < 0) cell_of[i] = seams.cell(p);
            EXPECT_EQ(cell_of[i], seams.cell(p));
        }
        EXPECT_EQ(holding, contains(ring, p) ? 1 : 0) << p.transpose();
    }
}

TEST(Seams, LinesRunInsideAndStopAtHoles) {
    // A square of 100 with a hole of 20 in its middle: the upright seam through it is two stretches
    // of 40, one beside it a single stretch of 100.
    Region2 frame = box(50, 50);
    frame.holes = {{{-10, -10}, {-10, 10}, {10, 10}, {10, -10}}};
    const auto lines = seam_lines(frame, Seams{0.0, {0.0, 30.0}, {}});
    ASSERT_EQ(lines.size(), 3u);
    double through = 0.0;
    for (const auto& line : lines) {
        const double run = (line.back() - line.front()).norm();
        if (std::abs(line.front().x()) < 1e-9) {
            EXPECT_NEAR(run, 40.0, 1e-9);
            through += run;
        } else {
            EXPECT_NEAR(run, 100.0, 1e-9);
        }
    }
    EXPECT_NEAR(through, 80.0, 1e-9);
}

TEST(Seams, StretchesInsideFollowABentLineAndPartWhereItLeaves) {
    // A line that goes through the square, out over its corner and in again, with a bend inside.
    const auto stretches =
        stretches_inside(box(50, 50), {{-80, 0}, {0, 0}, {0, 70}, {30, 70}, {30, -20}});
    ASSERT_EQ(stretches.size(), 2u);
    ASSERT_EQ(stretches[0].size(), 3u);
    EXPECT_LT((stretches[0][0] - Vec2(-50, 0)).norm(), 1e-9);
    EXPECT_LT((stretches[0][1] - Vec2(0, 0)).norm(), 1e-9);
    EXPECT_LT((stretches[0][2] - Vec2(0, 50)).norm(), 1e-9);
    EXPECT_LT((stretches[1].front() - Vec2(30, 50)).norm(), 1e-9);
    EXPECT_LT((stretches[1].back() - Vec2(30, -20)).norm(), 1e-9);
    EXPECT_TRUE(stretches_inside(box(50, 50), {{60, 0}, {60, 40}}).empty());
}

TEST(Seams, RunAlongsideWithinThirtyDegreesOnly) {
    // At 29 degrees lines still run alongside, at 31 they cross; the distance is taken at places of
    // the first line, about 10 mm apart.
    const std::vector<std::vector<Vec2>> level{{{0, 0}, {100, 0}}};
    const auto slanted = [](double degrees) {
        const double a = degrees * pi / 180;
        return std::vector<std::vector<Vec2>>{
            {Vec2(0, 20), Vec2(0, 20) + 100 * Vec2(std::cos(a), std::sin(a))}};
    };
    EXPECT_NEAR(distance_alongside(level, slanted(29)), 20.0, 1e-9);
    EXPECT_TRUE(std::isinf(distance_alongside(level, slanted(31))));
    // Which way either runs does not matter.
    auto back = slanted(29);
    std::reverse(back[0].begin(), back[0].end());
    EXPECT_NEAR(distance_alongside(level, back), 20.0, 1e-9);
}

TEST(SeamRuns, GoTheWayOfTheEdgeWithThePieceOnTheirLeft) {
    // A rectangle whose right side, and the right half of its top, are seams: one run of seven
    // vertices up and then left. By hand, with edges of 10 mm.
    const auto figure = test::rectangle_mesh(60, 30, 6, 3);
    Piece piece;
    piece.lay = test::on_cylinder(figure, 1e6);
    piece.chart = figure.place;
    piece.seams = {{{60, -5}, {60, 30}}, {{60, 30}, {30, 30}}};
    const auto runs = seam_runs(piece);
    ASSERT_EQ(runs.size(), 1u);
    ASSERT_EQ(runs[0].size(), 7u);
    EXPECT_EQ(piece.chart[runs[0].front()], Vec2(60, 0));
    EXPECT_EQ(piece.chart[runs[0][3]], Vec2(60, 30));
    EXPECT_EQ(piece.chart[runs[0].back()], Vec2(30, 30));
    // Two seams apart are two runs.
    piece.seams = {{{60, -5}, {60, 35}}, {{0, 35}, {0, -5}}};
    EXPECT_EQ(seam_runs(piece).size(), 2u);
    piece.seams.clear();
    EXPECT_TRUE(seam_runs(piece).empty());
}

PlyShape shape_on(const surface::Patch& patch, const Region2& region) {
    PlyShape shape;
    shape.patch = &patch;
    shape.region = region;
    shape.depth = [](const Vec2&) { return 0.0; };
    shape.fabric.kind = job::FabricKind::mat;
    return shape;
}

TEST(CreaseDivisions, PartAlongTheCreaseInsideTheShape) {
    // A wedge's crease is x = 0; in a box of half-height 40 it is a stretch of 80 mm.
    static const auto patch =
        test::analytic_patch(test::wedge_map(0.8), test::within_box(100, 80), 130, 10, true);
    const auto shape = shape_on(patch, box(60, 40));
    const auto all = crease_divisions(shape, [](const Division&) { return true; });
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all[0].creases, all[0].lines);
    EXPECT_TRUE(all[0].seam_lines().empty());
    EXPECT_EQ(all[0].cells, 0);
    ASSERT_EQ(all[0].lines.size(), 1u);
    EXPECT_NEAR(std::abs(all[0].lines[0].front().y()), 40.0, 1e-9);
    EXPECT_NEAR(std::abs(all[0].lines[0].back().y()), 40.0, 1e-9);
    for (const Vec2& p : all[0].lines[0]) EXPECT_NEAR(p.x(), 0.0, 1e-9);
    EXPECT_TRUE(crease_divisions(shape, [](const Division&) { return false; }).empty());
    // None where the shape lies beside the crease.
    const auto beside = shape_on(patch, turned(box(20, 20), 0.0, {50, 0}));
    EXPECT_TRUE(crease_divisions(beside, [](const Division&) { return true; }).empty());
}

TEST(SidesOfLines, AreThePartsThatTheLinesLeave) {
    // A rectangle cut by one line right through and one half way: two sides, areas by hand.
    const auto figure = test::rectangle_mesh(60, 40, 6, 4);
    const auto lay = test::lay_surface_of(test::on_cylinder(figure, 1e6), figure.place);
    const auto side = sides_of_lines(lay, {{{20, -5}, {20, 45}}, {{40, -5}, {40, 20}}});
    std::array<double, 2> found{0.0, 0.0};
    for (std::size_t t = 0; t < side.size(); ++t) {
        ASSERT_GE(side[t], 0);
        ASSERT_LE(side[t], 1);
        const auto& v = lay.mesh.triangle[t];
        const Vec2 middle = (lay.chart[v[0]] + lay.chart[v[1]] + lay.chart[v[2]]) / 3.0;
        EXPECT_EQ(side[t] == side[0], middle.x() < 20.0) << middle.transpose();
        found[side[t]] += 50.0;
    }
    EXPECT_NEAR(std::min(found[0], found[1]), 20.0 * 40.0, 1e-9);
    EXPECT_NEAR(std::max(found[0], found[1]), 40.0 * 40.0, 1e-9);
}

TEST(Divisions, ComeWithFewerCellsFirstAndKeepToTheRule) {
    // Mat, 300 x 120 mm, two seams: in three cells in a row (along the long side before the short),
    // then 2 x 2. Every division keeps to the rule it was given, none is narrower than 40 mm and
    // its laps.
    static const auto patch =
        test::analytic_patch(test::plane_map, test::within_box(200, 100), 240, 20);
    auto shape = shape_on(patch, box(150, 60));
    shape.fabric.tear_margin = 15.0;
    const auto keeps = [](const Division& d) {
        return std::all_of(d.lines.begin(), d.lines.end(),
                           [](const auto& line) { return std::abs(line.front().x()) > 12.0; });
    };
    const auto found = divisions(shape, 2, keeps, [](const Division&) { return true; });
    ASSERT_FALSE(found.empty());
    int cells = 0;
    for (const Division& d : found) {
        EXPECT_GE(d.cells, cells);
        cells = d.cells;
        EXPECT_TRUE(keeps(d));
        EXPECT_EQ(d.seams.across.size() + d.seams.along.size(), 2u);
        for (const auto& lines : {d.seams.across, d.seams.along})
            for (std::size_t i = 0; i + 1 < lines.size(); ++i)
                EXPECT_GE(lines[i + 1] - lines[i], 40.0 + 2 * 15.0);
    }
    EXPECT_EQ(found.front().cells, 3);
    EXPECT_EQ(found.front().seams.across.size(), 2u) << "across the long way";
}

TEST(Divisions, OfClothRunAlongItsYarns) {
    // Warp at 20 degrees to x on a flat chart: u is the warp's direction.
    static const auto patch =
        test::analytic_patch(test::plane_map, test::within_box(200, 100), 240, 20);
    auto shape = shape_on(patch, box(150, 60));
    shape.fabric.kind = job::FabricKind::woven;
    shape.fabric.lap = 50.0;
    shape.entry.axis = 20.0;
    EXPECT_EQ(lap_half_width(shape.fabric), 25.0);
    const auto any = [](const Division&) { return true; };
    const auto found = divisions(shape, 1, any, any);
    ASSERT_FALSE(found.empty());
    for (const Division& d : found) EXPECT_NEAR(d.seams.angle, 20.0 * pi / 180.0, 1e-9);
    // Mat has no yarns: along its longest way, and turned by an eighth.
    shape.fabric.kind = job::FabricKind::mat;
    for (const Division& d : divisions(shape, 1, any, any)) {
        const double eighths = d.seams.angle / (pi / 4);
        EXPECT_NEAR(eighths, std::round(eighths), 1e-9);
    }
}

}  // namespace
}  // namespace tearline::pieces

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <regex>

#include "core/job_sheet/cloth_lines.h"
#include "core/job_sheet/colour_scale.h"
#include "core/job_sheet/hull_picture.h"
#include "core/job_sheet/strain_cells.h"

namespace tearline::job_sheet {
namespace {

/// Lightness L of the Oklab space of a "#rrggbb", by the published matrices of that space.
double lightness(const std::string& hex) {
    std::array<double, 3> linear{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double s = std::stoi(hex.substr(1 + 2 * i, 2), nullptr, 16) / 255.0;
        linear[i] = s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
    }
    const auto& [r, g, b] = linear;
    const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
    const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
    const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
    return 0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s;
}

TEST(StrainColour, DarkensInEvenSteps) {
    // Its own claim: L falls linearly from 0.96 to 0.25, so that grey prints tell shares apart.
    for (int k = 0; k <= 40; ++k)
        EXPECT_NEAR(lightness(strain_colour(k / 40.0)), 0.96 - 0.71 * k / 40.0, 0.015) << k;
}

TEST(StrainColour, StaysAtItsEnds) {
    EXPECT_EQ(strain_colour(-1.0), strain_colour(0.0));
    EXPECT_EQ(strain_colour(7.0), strain_colour(1.0));
    EXPECT_NE(strain_colour(0.0), strain_colour(1.0));
}

TEST(PlyColour, DarkensInward) {
    for (int k = 0; k < 20; ++k)
        EXPECT_GT(lightness(ply_colour(k / 20.0)), lightness(ply_colour((k + 1) / 20.0)));
}

TEST(Colour, IsTwoDigitsALevel) {
    // By hand.
    EXPECT_EQ(colour(Vec3(0, 9.6, 255)), "#000aff");
    EXPECT_EQ(colour(Vec3(-5, 300, 16)), "#00ff10");
}

/// A rectangle of cloth in two triangles about the origin's right upper quadrant.
pieces::Piece rectangle(double width, double height) {
    pieces::Piece piece;
    piece.flat = {{0, 0}, {width, 0}, {width, height}, {0, height}};
    for (const Vec2& p : piece.flat) {
        piece.base.emplace_back(p.x(), p.y(), 0.0);
        piece.lay.position.emplace_back(p.x(), p.y(), 0.0);
    }
    piece.lay.triangle = {{0, 1, 2}, {0, 2, 3}};
    piece.stretch = {{1.0, 1.0}, {1.0, 0.99}};
    piece.chart = piece.flat;
    return piece;
}

/// Area of the squares of each colour: "Mx yhWvHHxZ".
std::map<std::string, double> painted(const std::string& svg) {
    std::map<std::string, double> out;
    const std::regex path("<path fill=\"(#[0-9a-f]{6})\" d=\"([^\"]*)\"/>");
    const std::regex cell("M([-\\d.]+) ([-\\d.]+)h([-\\d.]+)v([-\\d.]+)H([-\\d.]+)Z");
    for (std::sregex_iterator p(svg.begin(), svg.end(), path), end; p != end; ++p) {
        const std::string cells = (*p)[2];
        for (std::sregex_iterator c(cells.begin(), cells.end(), cell); c != end; ++c) {
            EXPECT_EQ((*c)[1], (*c)[5]) << "back to where it began";
            out[(*p)[1]] += std::stod((*c)[3]) * std::stod((*c)[4]);
        }
    }
    return out;
}

TEST(StrainCells, CoverThePieceHalfInEachTrianglesColour) {
    // By hand: 160 x 80 mm at half size is 80 x 40 mm of paper, half without strain and half with 1
    // %, which is half of a scale that ends at 2 %; cells are a little higher than their rows.
    const auto areas = painted(strain_cells(rectangle(160, 80), {0.02, 10.0}, {0, 0}, 0.5));
    ASSERT_EQ(areas.size(), 2u);
    EXPECT_TRUE(areas.contains(strain_colour(0.0)));
    double whole = 0.0;
    for (const auto& [fill, mm2] : areas) {
        EXPECT_NEAR(mm2, 1600.0, 0.12 * 1600.0) << fill;
        whole += mm2;
        if (fill != strain_colour(0.0)) EXPECT_NEAR(lightness(fill), 0.96 - 0.71 * 0.5, 0.03);
    }
    EXPECT_NEAR(whole, 3200.0, 0.1 * 3200.0);
}

TEST(StrainCells, StandWhereThePieceDoesWithYDown) {
    // At (100, 50) and full size: x from 100 to 140, y from 50 up to 30.
    const std::string svg = strain_cells(rectangle(40, 20), {0.02, 10.0}, {100, 50}, 1.0);
    const std::regex corner("M([-\\d.]+) ([-\\d.]+)h");
    double left = 1e9, top = 1e9, bottom = -1e9;
    for (std::sregex_iterator c(svg.begin(), svg.end(), corner), end; c != end; ++c) {
        left = std::min(left, std::stod((*c)[1]));
        top = std::min(top, std::stod((*c)[2]));
        bottom = std::max(bottom, std::stod((*c)[2]));
    }
    EXPECT_NEAR(left, 100.0, 0.01);
    EXPECT_NEAR(top, 30.0, 1.01);
    EXPECT_NEAR(bottom, 49.0, 1.01);
}

TEST(StrainCells, ShowShearWhereTheClothWasLaidByItsYarns) {
    pieces::Piece cloth = rectangle(40, 20);
    cloth.shear_degrees = {10.0, -10.0};
    const auto areas = painted(strain_cells(cloth, {0.01, 10.0}, {0, 0}, 1.0));
    ASSERT_EQ(areas.size(), 1u) << "shear either way is shear";
    EXPECT_EQ(areas.begin()->first, strain_colour(1.0));
}

template <class Point>
double length_of(const std::vector<std::array<Point, 2>>& yarns) {
    double length = 0.0;
    for (const auto& yarn : yarns) length += (yarn[1] - yarn[0]).norm();
    return length;
}

TEST(YarnsOnHull, AreAsLongAsAreaBySpacing) {
    // Cavalieri: lines of one family, d apart, cut a region to a total length of its area by d; two
    // families, and a fine spacing, so that where they begin does not matter.
    pieces::Piece cloth = rectangle(300, 200);
    for (const double warp : {0.0, 30.0, -75.0}) {
        cloth.warp_degrees = warp;
        const double wanted = 2.0 * 300.0 * 200.0 / 3.0;
        EXPECT_NEAR(length_of(yarns_on_hull(cloth, job::FabricKind::woven, 3.0)), wanted,
                    0.02 * wanted);
        EXPECT_NEAR(length_of(yarns_on_hull(cloth, job::FabricKind::biaxial, 3.0)), wanted,
                    0.02 * wanted);
    }
}

TEST(YarnsOnHull, RunAlongTheWarpAndAcrossIt) {
    // Woven at 20 degrees: every stretch along 20 or 110; biaxial at 45 degrees to that.
    pieces::Piece cloth = rectangle(100, 70);
    cloth.warp_degrees = 20.0;
    for (const auto& [kind, turn] :
         {std::pair{job::FabricKind::woven, 20.0}, {job::FabricKind::biaxial, 65.0}})
        for (const auto& yarn : yarns_on_hull(cloth, kind, 10.0)) {
            const Vec3 way = yarn[1] - yarn[0];
            if (way.norm() < 1e-9) continue;
            const double angle = std::atan2(way.y(), way.x()) * 180.0 / std::numbers::pi;
            const double off = std::fmod(angle - turn + 720.0, 90.0);
            EXPECT_NEAR(std::min(off, 90.0 - off), 0.0, 1e-6);
        }
}

TEST(YarnsFlat, AreTheSameYarnsStraight) {
    // Every short stretch on the hull of a flat piece lies on one of the straight ones.
    pieces::Piece cloth = rectangle(100, 70);
    cloth.warp_degrees = 33.0;
    const auto straight = yarns_flat(cloth, job::FabricKind::woven, 10.0);
    for (const auto& yarn : yarns_on_hull(cloth, job::FabricKind::woven, 10.0))
        for (const Vec3& end : yarn) {
            double nearest = 1e9;
            for (const auto& line : straight) {
                const Vec2 along = (line[1] - line[0]).normalized();
                nearest =
                    std::min(nearest, std::abs(cross2(along, Vec2(end.x(), end.y()) - line[0])));
            }
            EXPECT_LT(nearest, 1e-9);
        }
}

TEST(HullProjection, TurnsYOverAndScales) {
    // By hand: 10 mm right and 4 up of the centre, at half size from (50, 60).
    HullProjection view;
    view.centre = Vec3(1, 2, 3);
    view.right = Vec3(0, 1, 0);
    view.up = Vec3(0, 0, 1);
    view.towards = Vec3(1, 0, 0);
    view.at = Vec2(50, 60);
    view.scale = 0.5;
    EXPECT_EQ(view(Vec3(9, 12, 7)), Vec2(55, 58));
    EXPECT_EQ(projected_line({{1, 2, 3}, {9, 12, 7}}, view), "M50 60L55 58");
    EXPECT_EQ(projected_path({{{1, 2, 3}, {1, 12, 3}, {1, 12, 13}}, {}}, view),
              "M50 60L55 60L55 55Z");
}

TEST(Fit, FillsTheBoxTheNarrowerWayAndNoMore) {
    // By hand: 200 x 50 mm into 100 x 100 of paper: half size, in the middle; at most as large as
    // asked.
    HullProjection view;
    const std::vector<Vec3> points = {{0, 0, 0}, {200, 0, 5}, {200, 50, -5}, {0, 50, 0}};
    fit(view, points, {{10, 20}, {110, 120}}, 1.0);
    EXPECT_NEAR(view.scale, 0.5, 1e-12);
    EXPECT_NEAR((view(Vec3(100, 25, 0)) - Vec2(60, 70)).norm(), 0.0, 1e-9);
    EXPECT_NEAR(view(Vec3(0, 0, 0)).x(), 10.0, 1e-9);
    EXPECT_NEAR(view(Vec3(200, 0, 0)).x(), 110.0, 1e-9);
    fit(view, points, {{0, 0}, {1000, 1000}}, 2.0);
    EXPECT_NEAR(view.scale, 2.0, 1e-12);
}

}  // namespace
}  // namespace tearline::job_sheet

#include <gtest/gtest.h>

#include "core/flattening/pin_jointed_net.h"
#include "core/pieces/chart_map.h"
#include "core/pieces/cloth_picture.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/piece_frame.h"
#include "core/surface/curved_area.h"
#include "tests/support/analytic_meshes.h"
#include "tests/support/lay_surface_of.h"
#include "tests/support/sphere_net.h"

namespace tearline::pieces {
namespace {

constexpr double degrees = 180.0 / std::numbers::pi;

Result<Piece> make_cloth_piece(const plies::LaySurface& lay, std::string id,
                               const ClothLaying& laying) {
    const auto picture = ClothPicture::of(lay, std::move(id));
    if (!picture) return tl::unexpected(picture.error());
    return picture->laid(laying, flattening::NetOptions{}.cell);
}

double flat_area(const Piece& piece) {
    double sum = 0.0;
    for (const auto& v : piece.lay.triangle)
        sum +=
            0.5 * cross2(piece.flat[v[1]] - piece.flat[v[0]], piece.flat[v[2]] - piece.flat[v[0]]);
    return sum;
}

TEST(MakeClothPiece, LeavesADevelopableAsItIsForAnyAxis) {
    // Zero Gauss curvature: no shear, and the cloth is the figure that was rolled up. +x is the
    // tangent round the cylinder at the point pressed down first.
    const auto figure = test::with_hole(test::disc(200.0, 16), {80.0, 30.0}, 30.0);
    const auto lay = test::lay_surface_of(test::on_cylinder(figure, 300.0), figure.place);
    const Vec2 press(-30.0, 45.0);
    const double place = press.x() / 300.0;
    const Vec3 round(std::cos(place), 0.0, -std::sin(place));
    for (const double axis : {0.0, 30.0, -75.0})
        for (const bool biaxial : {false, true}) {
            const auto piece = make_cloth_piece(
                lay, "2A",
                {.press_first = press, .x = round, .axis_degrees = axis, .biaxial = biaxial});
            ASSERT_TRUE(piece) << piece.error().message();
            EXPECT_LE(*piece->shear_max, 0.02);
            EXPECT_DOUBLE_EQ(*piece->warp_degrees, axis);
            EXPECT_EQ(piece->shear_degrees.size(), figure.triangle.size());
            for (std::size_t i = 0; i < figure.place.size(); ++i)
                EXPECT_LE((piece->flat[i] - (figure.place[i] - press)).norm(), 0.02) << axis;
        }
}

TEST(MakeClothPiece, MappedForwardAgainTheTemplateLandsOnTheOutline) {
    // Bar of 0.1 mm for an outline carried back: the flat rim of a cap of half a radian, laid on
    // the sphere by the exact net, must lie half a radian from the pole, at its own longitude.
    const double radius = 600.0;
    const auto figure = test::disc(300.0, 26);
    const auto piece =
        make_cloth_piece(test::lay_surface_of(test::on_sphere(figure, radius), figure.place), "1A",
                         {.x = {1, 0, 0}});
    ASSERT_TRUE(piece) << piece.error().message();
    const test::SphereNet net(0.0025, 260);
    for (std::size_t i = 0; i < figure.place.size(); ++i) {
        const Vec3 laid = radius * net.at(piece->flat[i].x() / radius, piece->flat[i].y() / radius);
        EXPECT_LE((laid - piece->lay.position[i]).norm(), 0.1) << i;
    }
}

TEST(MakeClothPiece, ItsAreaIsThatOfTheClothItTakes) {
    // A sheared cell covers cos(shear) of its own area: cloth = sum of lay area / cos(shear). The
    // flat outline must enclose just that.
    const auto figure = test::disc(330.0, 26);
    const auto mesh = test::on_sphere(figure, 600.0);
    const auto piece =
        make_cloth_piece(test::lay_surface_of(mesh, figure.place), "1A", {.axis_degrees = 20.0});
    ASSERT_TRUE(piece) << piece.error().message();
    double cloth = 0.0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        surface::SurfaceMesh one;
        one.edge_length = {mesh.edge_length[t]};
        one.triangle = {{0, 1, 2}};
        one.position.resize(3);
        cloth += surface::curved_area(one) / std::cos(piece->shear_degrees[t] / degrees);
    }
    EXPECT_NEAR(flat_area(*piece) / cloth, 1.0, 2e-4);
    EXPECT_GT(flat_area(*piece), surface::curved_area(mesh));
}

TEST(MakeClothPiece, LargestShearOfACapLiesOnItsDiagonals) {
    // (s f')' = cos f (SOURCES.md section 6): over the cap of half a radian the net's diagonal
    // ends at the u = v whose node is half a radian from the pole, found on the exact net; the
    // mean over the half disc of 10 mm there lies a little below.
    const double radius = 600.0;
    const auto figure = test::disc(300.0, 60);
    const auto piece =
        make_cloth_piece(test::lay_surface_of(test::on_sphere(figure, radius), figure.place), "1A",
                         {.x = {1, 0, 0}});
    ASSERT_TRUE(piece) << piece.error().message();
    const test::SphereNet net(0.0025, 260);
    double u = 0.3;
    while (std::acos(net.at(u, u).z()) < 0.5) u += 1e-4;
    // Series of the closed form: f = s - s^3/18 + ... ; s = 0.13 needs no more terms.
    const double s = u * u, rim = (s - s * s * s / 18.0) * degrees;
    EXPECT_LT(*piece->shear_max, rim);
    // f grows with r^2: over the half disc, whose centroid is 4 r / 3 pi = 2.1 mm in, by 2 x 2.1 /
    // 300 less. Discs are centred on triangles, up to 2 mm in: the bar of 0.05 degrees holds that.
    EXPECT_NEAR(*piece->shear_max, rim * (1.0 - 2.0 * 2.12 / 300.0), 0.05);
}

TEST(MakeClothPiece, BiaxialShearsMostAlongAndAcrossTheRoll) {
    // The same net turned by 45 degrees: its diagonals are the roll's length and width.
    const auto figure = test::disc(300.0, 26);
    const auto lay = test::lay_surface_of(test::on_sphere(figure, 600.0), figure.place);
    const auto piece = make_cloth_piece(lay, "1A", {.x = {1, 0, 0}, .biaxial = true});
    ASSERT_TRUE(piece) << piece.error().message();
    const auto& shear = piece->shear_degrees;
    const auto most = std::max_element(shear.begin(), shear.end()) - shear.begin();
    const auto& v = piece->lay.triangle[static_cast<std::size_t>(most)];
    const Vec2 c = piece->flat[v[0]];
    EXPECT_LE(std::min(std::abs(c.x()), std::abs(c.y())), 25.0) << c.transpose();
}

TEST(MakeClothPiece, TurningThePieceTurnsItsWarp) {
    const auto figure = test::disc(200.0, 12);
    const auto lay = test::lay_surface_of(test::on_cylinder(figure, 300.0), figure.place);
    auto piece = make_cloth_piece(lay, "1A", {.x = {1, 0, 0}, .axis_degrees = 30.0});
    ASSERT_TRUE(piece) << piece.error().message();
    turn_to_frame(*piece, {0.0, 0.0}, {-1.0, 0.0, 0.0}, {1.0, 0.0, 0.0}, {0.0, 0.0, 1.0});
    // +x is now the cylinder's axis, 90 degrees on: the warp stays where it was on the cloth.
    EXPECT_NEAR(*piece->warp_degrees, -60.0, 0.01);
    EXPECT_NEAR(piece->axis_from_degrees, -90.0, 0.01);
}

TEST(ChartMap, KnowsTheSheetsOfATrimmedCrease) {
    // Two halves of a sheet meet at x = 0; in the chart the right one begins 6 mm on, where the
    // strip between has no point at depth.
    const auto figure = test::disc(100.0, 10);
    auto lay = test::lay_surface_of(test::on_cylinder(figure, 1e5), figure.place);
    for (const auto& v : lay.mesh.triangle) {
        const Vec2 c = (figure.place[v[0]] + figure.place[v[1]] + figure.place[v[2]]) / 3.0;
        const Vec2 shift(c.x() > 0.0 ? 6.0 : 0.0, 0.0);
        lay.corner_chart.push_back(
            {figure.place[v[0]] + shift, figure.place[v[1]] + shift, figure.place[v[2]] + shift});
    }
    // Triangles across x = 0 belong to either side; the line keeps clear of them.
    const auto piece = make_piece(lay, "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    const ChartMap map(*piece);
    const auto left = map.flat_at({-50.0, 20.0}), right = map.flat_at({56.0, 20.0});
    ASSERT_TRUE(left && right);
    EXPECT_NEAR((*right - *left).norm(), 100.0, 0.01);

    // A closed line over the strip stays one: by hand, a square of 100 mm is 100 mm wide flat once
    // the 6 mm are lost, and one that leaves the disc on both sides falls in two.
    const auto box = [](double half_width, double half_height) {
        Loop2 loop;
        for (double s = -1.0; s < 1.0; s += 0.05) loop.emplace_back(half_width * s, -half_height);
        for (double s = -1.0; s < 1.0; s += 0.05) loop.emplace_back(half_width, half_height * s);
        for (double s = -1.0; s < 1.0; s += 0.05) loop.emplace_back(-half_width * s, half_height);
        for (double s = -1.0; s < 1.0; s += 0.05) loop.emplace_back(-half_width, -half_height * s);
        for (Vec2& p : loop) p.x() += 3.0;
        return loop;
    };
    const auto whole = map.runs(box(53.0, 40.0));
    ASSERT_EQ(whole.size(), 1u);
    EXPECT_TRUE(whole[0].closed);
    EXPECT_NEAR(std::abs(signed_area(whole[0].points)), 100.0 * 80.0, 30.0);
    const auto parts = map.runs(box(120.0, 40.0));
    EXPECT_EQ(parts.size(), 2u);
    for (const auto& run : parts) EXPECT_FALSE(run.closed);
}

TEST(ChartMap, FindsEveryVertexAndNothingOutside) {
    const auto figure = test::disc(100.0, 10);
    const auto piece =
        make_piece(test::lay_surface_of(test::on_cylinder(figure, 400.0), figure.place), "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    const ChartMap map(*piece);
    for (std::size_t v = 0; v < piece->chart.size(); v += 7) {
        const auto flat = map.flat_at(piece->chart[v]);
        if (!flat) continue;  // on the rim, within rounding
        EXPECT_NEAR((*flat - piece->flat[v]).norm(), 0.0, 1e-9);
    }
    EXPECT_TRUE(map.flat_at({0, 0}));
    EXPECT_FALSE(map.flat_at({500, 0}));
    EXPECT_FALSE(map.flat_at({-1e9, 1e9}));
}

}  // namespace
}  // namespace tearline::pieces

#include "core/pieces/make_piece.h"

#include <gtest/gtest.h>

#include "core/pieces/chart_map.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/piece_frame.h"
#include "core/surface/curved_area.h"
#include "tests/support/analytic_meshes.h"
#include "tests/support/lay_surface_of.h"

namespace tearline::pieces {
namespace {

TEST(MakePiece, CarriesEverythingVertexByVertex) {
    const auto figure = test::disc(300.0, 12);
    const auto piece =
        make_piece(test::lay_surface_of(test::on_sphere(figure, 600.0), figure.place), "3B");
    ASSERT_TRUE(piece) << piece.error().message();
    EXPECT_EQ(piece->id, "3B");
    EXPECT_EQ(piece->flat.size(), figure.place.size());
    EXPECT_EQ(piece->chart.size(), figure.place.size());
    EXPECT_EQ(piece->base.size(), figure.place.size());
    EXPECT_EQ(piece->stretch.size(), figure.triangle.size());
    EXPECT_FALSE(piece->shear_max);
}

TEST(MakePiece, StrainOfASphereCapMeetsTheClosedForm) {
    // SOURCES.md section 6: strain.rms 1.289162 %. strain.max is the hoop strain averaged over the
    // part of a 10 mm disc about a rim point that lies on the cap: r(t) there gives e = r / (R sin
    // t) - 1, integrated over the half disc by columns (derived).
    const double radius = 600.0, a = 0.5;
    const auto figure = test::disc(300.0, 100);
    const auto piece =
        make_piece(test::lay_surface_of(test::on_sphere(figure, radius), figure.place), "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    EXPECT_NEAR(piece->strain_rms, 0.01289162, 0.01289162 * 0.0025);

    const double l = std::log(std::cos(0.5 * a)), cot = 1.0 / std::tan(0.5 * a);
    const auto hoop = [&](double t) {
        const double r = -2.0 * l * cot * cot * std::tan(0.5 * t) -
                         2.0 / std::tan(0.5 * t) * std::log(std::cos(0.5 * t));
        return r / std::sin(t) - 1.0;
    };
    double sum = 0.0, share = 0.0;
    for (int i = 0; i < 1000; ++i) {
        const double depth = 5.0 * (i + 0.5) / 1000.0;
        const double width = std::sqrt(25.0 - depth * depth);
        sum += width * hoop(a - depth / radius);
        share += width;
    }
    EXPECT_NEAR(piece->strain_max, sum / share, 0.01 * sum / share);
    EXPECT_LT(piece->strain_max, 0.031913);
}

TEST(MakePiece, NetOutlineOfADevelopableIsItsFigure) {
    auto figure = test::with_hole(test::disc(200.0, 16), {60.0, 20.0}, 40.0);
    const auto piece =
        make_piece(test::lay_surface_of(test::on_cylinder(figure, 300.0), figure.place), "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    const Region2 net = net_outline(*piece);
    const Region2 drawn = flat_outline(piece->lay, figure.place);
    ASSERT_EQ(net.holes.size(), 1u);
    EXPECT_NEAR(area(net), area(drawn), 0.01);
    EXPECT_NEAR(perimeter(net.outer), perimeter(drawn.outer), 0.01);
}

TEST(MakePiece, RefusesAShapeThatOverlapsItselfOnTheTable) {
    // A ramp that turns through 400 degrees about its axis: flat it is more than a full ring.
    test::PlaneMesh figure;
    std::vector<Vec2> chart;
    const int around = 120, across = 6;
    std::vector<Vec2> polar;
    for (int i = 0; i <= around; ++i)
        for (int k = 0; k <= across; ++k) {
            const double turn = 400.0 / 180.0 * std::numbers::pi * i / around;
            const double r = 100.0 + 10.0 * k;
            polar.emplace_back(r, turn);
            figure.place.emplace_back(polar.back());
            chart.emplace_back(r * std::cos(0.8 * turn), r * std::sin(0.8 * turn));
        }
    for (int i = 0; i < around; ++i)
        for (int k = 0; k < across; ++k) {
            const int v = i * (across + 1) + k;
            figure.triangle.push_back({v, v + 1, v + across + 2});
            figure.triangle.push_back({v, v + across + 2, v + across + 1});
        }
    const test::Surface ramp{[](const Vec2& p) {
                                 return Vec3(p.x() * std::cos(p.y()), p.x() * std::sin(p.y()),
                                             5.0 * p.y());
                             },
                             [](const Vec2&) { return Vec3(0.0, 0.0, 1.0); },
                             [](const Vec2& a, const Vec2& b) {
                                 return std::sqrt(a.x() * a.x() + b.x() * b.x() -
                                                  2.0 * a.x() * b.x() * std::cos(a.y() - b.y()));
                             }};
    const auto piece =
        make_piece(test::lay_surface_of(test::on_surface(figure, ramp), chart), "2A");
    ASSERT_FALSE(piece);
    EXPECT_EQ(piece.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(piece.error().message().find("2A"), std::string::npos);
    EXPECT_NE(piece.error().message().find("overlaps itself"), std::string::npos);
}

TEST(MakePiece, RefusesASurfaceInTwoParts) {
    auto figure = test::disc(50.0, 4);
    const auto count = static_cast<std::int32_t>(figure.place.size());
    const auto other = test::disc(50.0, 4);
    for (const Vec2& p : other.place) figure.place.push_back(p + Vec2(200.0, 0.0));
    for (const auto& v : other.triangle)
        figure.triangle.push_back({v[0] + count, v[1] + count, v[2] + count});
    const auto piece =
        make_piece(test::lay_surface_of(test::on_cylinder(figure, 300.0), figure.place), "1A");
    ASSERT_FALSE(piece);
    EXPECT_NE(piece.error().message().find("2 parts"), std::string::npos)
        << piece.error().message();
}

TEST(TurnToFrame, LaysADirectionAlongYAndTheMiddleAtTheOrigin) {
    // On a cylinder about y the chart is the flat figure itself. The bow leans out of the surface
    // and 30 degrees across the axis: only its tangential part counts.
    const auto figure = test::disc(200.0, 16);
    auto piece =
        make_piece(test::lay_surface_of(test::on_cylinder(figure, 300.0), figure.place), "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    const Vec2 middle(40.0, -25.0);
    const double turn = std::numbers::pi / 6.0, place = middle.x() / 300.0;
    const Vec3 around(std::cos(place), 0.0, -std::sin(place));
    const Vec3 normal(std::sin(place), 0.0, std::cos(place));
    const Vec3 bow = std::cos(turn) * around + Vec3(0.0, std::sin(turn), 0.0) + 0.4 * normal;
    turn_to_frame(*piece, middle, bow, around, normal);
    for (std::size_t i = 0; i < figure.place.size(); ++i) {
        const Vec2 p = figure.place[i] - middle;
        const Vec2 expected(std::sin(turn) * p.x() - std::cos(turn) * p.y(),
                            std::cos(turn) * p.x() + std::sin(turn) * p.y());
        EXPECT_LE((piece->flat[i] - expected).norm(), 0.02) << i;
    }
    // Round the cylinder lies 30 degrees clockwise of the bow, which is at 90.
    EXPECT_NEAR(piece->axis_from_degrees, 60.0, 0.01);
}

TEST(TurnToFrame, FollowsAMeridianOfASphere) {
    // By symmetry the meridian through the pole along x stays straight on the flat cap; with the
    // middle off the pole the direction along it must come out along y all the same.
    const int rings = 24;
    const auto figure = test::disc(300.0, rings);
    auto piece =
        make_piece(test::lay_surface_of(test::on_sphere(figure, 600.0), figure.place), "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    turn_to_frame(*piece, {110.0, 0.0}, Vec3(1.0, 0.0, 0.0), Vec3(0.0, 1.0, 0.0),
                  Vec3(0.0, 0.0, 1.0));
    // The middle of the side between two triangles lies on the meridian; vertices of it are the
    // first of each ring, and their opposite ones.
    double worst = 0.0;
    for (std::size_t i = 0; i < figure.place.size(); ++i)
        if (std::abs(figure.place[i].y()) < 1e-6)
            worst = std::max(worst, std::abs(piece->flat[i].x()));
    EXPECT_LE(worst, 0.3);
}

TEST(TurnToFrame, GoesRoundARightAngle) {
    // The middle of the damage lies on a mast's port side (bow x, up z, seen from +y: up is y on
    // paper, aft its right), the piece on the deck about the foot: up the mast is towards it, by
    // unfolding the joint.
    const auto figure = test::disc(200.0, 10);
    const test::Surface deck{[](const Vec2& p) { return Vec3(p.x(), p.y(), 0.0); },
                             [](const Vec2&) { return Vec3(0.0, 0.0, 1.0); },
                             [](const Vec2& a, const Vec2& b) { return (a - b).norm(); }};
    auto piece =
        make_piece(test::lay_surface_of(test::on_surface(figure, deck), figure.place), "2B");
    ASSERT_TRUE(piece) << piece.error().message();
    turn_to_frame(*piece, {0.0, 0.0}, Vec3(0.0, 0.0, 1.0), Vec3(1.0, 0.0, 0.0),
                  Vec3(0.0, 1.0, 0.0));
    for (std::size_t i = 0; i < figure.place.size(); ++i)
        EXPECT_LE((piece->flat[i] + figure.place[i]).norm(), 1e-6) << i;
    EXPECT_NEAR(std::abs(piece->axis_from_degrees), 180.0, 1e-6) << "the bow is to the left";
}

TEST(TurnToFrame, NeverMirrors) {
    const auto figure = test::disc(200.0, 10);
    auto piece =
        make_piece(test::lay_surface_of(test::on_sphere(figure, 500.0), figure.place), "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    turn_to_frame(*piece, {0.0, 0.0}, Vec3(-1.0, 0.5, 0.2), Vec3(1.0, 0.0, 0.0),
                  Vec3(0.0, 0.0, 1.0));
    for (const auto& v : piece->lay.triangle)
        EXPECT_GT(
            cross2(piece->flat[v[1]] - piece->flat[v[0]], piece->flat[v[2]] - piece->flat[v[0]]),
            0.0);
}

TEST(ChartMap, CarriesALineToTheFlatPiece) {
    // On a cylinder chart and flat piece are congruent: a circle stays a circle.
    const auto figure = test::disc(200.0, 16);
    auto piece =
        make_piece(test::lay_surface_of(test::on_cylinder(figure, 300.0), figure.place), "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    const Vec2 middle(10.0, 20.0);
    turn_to_frame(*piece, middle, Vec3(0.0, 1.0, 0.0), Vec3(1.0, 0.0, 0.0), Vec3(0.0, 0.0, 1.0));
    const ChartMap map(*piece);
    for (int i = 0; i < 100; ++i) {
        const double a = 0.02 * std::numbers::pi * i;
        const auto p = map.flat_at(middle + 120.0 * Vec2(std::cos(a), std::sin(a)));
        ASSERT_TRUE(p) << i;
        EXPECT_NEAR(p->norm(), 120.0, 0.005);
    }
}

TEST(ChartMap, LeavesOutWhatLiesOutsideAndFindsTheNearestPlace) {
    const auto figure = test::disc(100.0, 10);
    const auto piece =
        make_piece(test::lay_surface_of(test::on_cylinder(figure, 300.0), figure.place), "1A");
    ASSERT_TRUE(piece) << piece.error().message();
    const ChartMap map(*piece);
    EXPECT_TRUE(map.flat_at({0.0, 0.0}) && map.flat_at({0.0, 50.0}));
    EXPECT_FALSE(map.flat_at({500.0, 0.0}) || map.flat_at({-1e9, 4.0}));
    const Vec2 edge = map.flat(map.nearest({500.0, 0.0}));
    const Vec2 centre = map.flat(map.nearest({0.0, 0.0}));
    EXPECT_NEAR((edge - centre).norm(), 100.0, 0.01);
}

}  // namespace
}  // namespace tearline::pieces

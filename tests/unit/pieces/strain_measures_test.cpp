#include "core/pieces/strain_measures.h"

#include <gtest/gtest.h>

#include <random>

#include "core/flattening/flatten_membrane.h"
#include "tests/support/analytic_meshes.h"

namespace tearline::pieces {
namespace {

using test::disc;

using std::numbers::pi;

TEST(SharedArea, OfPlainPlacesIsElementary) {
    const std::array<Vec2, 3> large{Vec2(-100, -100), Vec2(100, -100), Vec2(0, 100)};
    EXPECT_NEAR(shared_area({0, 0}, 5.0, large), pi * 25.0, 1e-9);
    const std::array<Vec2, 3> small{Vec2(0, 0), Vec2(1, 0), Vec2(0, 1)};
    EXPECT_NEAR(shared_area({0.2, 0.2}, 5.0, small), 0.5, 1e-12);
    // Centred on a side: half a disc. On a corner of an equilateral triangle: a sixth.
    EXPECT_NEAR(shared_area({0, -100}, 5.0, large), pi * 25.0 / 2.0, 1e-9);
    const std::array<Vec2, 3> equal{Vec2(0, 0), Vec2(20, 0), Vec2(10, 10 * std::sqrt(3.0))};
    EXPECT_NEAR(shared_area({0, 0}, 5.0, equal), pi * 25.0 / 6.0, 1e-9);
    EXPECT_NEAR(shared_area({300, 0}, 5.0, large), 0.0, 1e-9);
}

TEST(SharedArea, AgreesWithCountedPoints) {
    // Second route: midpoints of a fine grid over the disc, random triangles, fixed start value.
    std::mt19937 random(20240703);
    std::uniform_real_distribution<double> across(-8.0, 8.0);
    for (int k = 0; k < 20; ++k) {
        std::array<Vec2, 3> corner;
        for (Vec2& p : corner) {
            const double x = across(random);
            p = Vec2(x, across(random));
        }
        if (cross2(corner[1] - corner[0], corner[2] - corner[0]) < 0.0)
            std::swap(corner[1], corner[2]);
        const int n = 800;
        double counted = 0.0;
        for (int i = 0; i < n; ++i)
            for (int j = 0; j < n; ++j) {
                const Vec2 p(-5.0 + 10.0 * (i + 0.5) / n, -5.0 + 10.0 * (j + 0.5) / n);
                bool inside = p.norm() < 5.0;
                for (std::size_t e = 0; e < 3; ++e)
                    inside = inside && cross2(corner[(e + 1) % 3] - corner[e], p - corner[e]) > 0.0;
                counted += inside ? 100.0 / n / n : 0.0;
            }
        EXPECT_NEAR(shared_area({0, 0}, 5.0, corner), counted, 0.05) << "triangle " << k;
    }
}

TEST(LargestDiscMean, OfAnEvenValueIsThatValue) {
    const auto figure = disc(60.0, 20);
    const auto mesh = test::on_cylinder(figure, 1000.0);
    const std::vector<double> value(mesh.triangle.size(), 0.03);
    EXPECT_NEAR(largest_disc_mean(mesh, figure.place, value, 10.0).value, 0.03, 1e-12);
}

TEST(LargestDiscMean, SpreadsASpotOverTheDisc) {
    // 1 within 2.5 mm of the middle, 0 elsewhere: a disc of 5 mm radius about it has a quarter.
    const auto figure = disc(30.0, 120);
    const auto mesh = test::on_cylinder(figure, 1000.0);
    std::vector<double> value;
    for (const auto& v : mesh.triangle) {
        const Vec2 c = (figure.place[v[0]] + figure.place[v[1]] + figure.place[v[2]]) / 3.0;
        value.push_back(c.norm() < 2.5 ? 1.0 : 0.0);
    }
    EXPECT_NEAR(largest_disc_mean(mesh, figure.place, value, 10.0).value, 0.25, 0.01);
}

TEST(LargestDiscMean, StaysOnItsSideOfASlit) {
    // A strip 1 mm wide above the cut has the value 1: about a point of it the cloth without a cut
    // holds a full disc, the cut one half a disc, so that the mean doubles.
    const auto whole = disc(40.0, 80);
    const auto slit = test::with_slit(whole, 0);
    const auto mean = [](const test::PlaneMesh& figure) {
        const auto mesh = test::on_cylinder(figure, 1000.0);
        std::vector<double> value;
        for (const auto& v : mesh.triangle) {
            const Vec2 c = (figure.place[v[0]] + figure.place[v[1]] + figure.place[v[2]]) / 3.0;
            value.push_back(c.y() > 0.0 && c.y() < 1.0 && c.x() > 15.0 && c.x() < 30.0 ? 1.0 : 0.0);
        }
        return largest_disc_mean(mesh, figure.place, value, 10.0).value;
    };
    // Strip of 1 x 10 mm less the ends, over pi 25 or half of it (by hand).
    EXPECT_NEAR(mean(whole), 10.0 / (25.0 * pi), 0.01);
    EXPECT_NEAR(mean(slit), 10.0 / (12.5 * pi), 0.03);
}

TEST(LargestDiscMean, ConvergesAtTheEndOfACut) {
    // Strain at the end of a slit grows without limit as the mesh is refined; its mean over a disc
    // does not (DEFINITIONS.md, Mat). Cap of R = 600, a = 0.2, slit over its outer half.
    std::vector<double> mean, raw;
    for (const int rings : {30, 60, 120}) {
        const auto figure = test::with_slit(disc(120.0, rings), rings / 2);
        const auto mesh = test::on_sphere(figure, 600.0);
        const auto flat = flattening::flatten_membrane(mesh, figure.place);
        ASSERT_TRUE(flat) << flat.error().message();
        const auto strain = largest_strains(flat->stretch);
        raw.push_back(*std::max_element(strain.begin(), strain.end()));
        mean.push_back(largest_disc_mean(mesh, flat->flat, strain, 10.0).value);
    }
    EXPECT_GT(raw[2], 1.3 * raw[1]);
    EXPECT_NEAR(mean[1] / mean[0], 1.0, 0.03);
    EXPECT_NEAR(mean[2] / mean[1], 1.0, 0.03);
}

}  // namespace
}  // namespace tearline::pieces

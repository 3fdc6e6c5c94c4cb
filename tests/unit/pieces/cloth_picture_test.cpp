#include "core/pieces/cloth_picture.h"

#include <gtest/gtest.h>

#include "core/surface/curved_area.h"
#include "tests/support/analytic_meshes.h"
#include "tests/support/hull_like_shapes.h"
#include "tests/support/lay_surface_of.h"

/// Where cloth is pressed down first and how it is turned, against trying every place of a grid.
namespace tearline::pieces {
namespace {

constexpr double cell = 10.0;  // [mm] of the nets compared

/// A disc with all beyond x = `edge` cut away, its middle no place to start from.
test::PlaneMesh lopped_disc(double radius, double edge) {
    test::PlaneMesh figure = test::disc(radius, 24);
    for (Vec2& p : figure.place)
        p.x() = -radius + (p.x() + radius) * (edge + radius) / 2.0 / radius;
    return figure;
}

struct Case {
    const char* name;
    plies::LaySurface lay;
};

std::vector<Case> cases() {
    std::vector<Case> out;
    const auto add = [&](const char* name, const test::PlaneMesh& figure, auto map) {
        out.push_back({name, test::lay_surface_of(map(figure), figure.place)});
    };
    const auto ball = [](const test::PlaneMesh& f) { return test::on_sphere(f, 500.0); };
    const auto bumpy = [](const test::PlaneMesh& f) {
        return test::on_graph(f, test::bumpy_shape);
    };
    add("cap", test::disc(220.0, 24), ball);
    add("lopped cap", lopped_disc(220.0, 60.0), ball);
    add("bumpy side", test::disc(300.0, 24), bumpy);
    add("lopped bumpy side", lopped_disc(300.0, -40.0), bumpy);
    return out;
}

/// The least that any start of an even grid over the piece gives.
double least_on_grid(const ClothPicture& picture, const ClothLaying& asked, int steps) {
    double low[2] = {1e9, 1e9}, high[2] = {-1e9, -1e9};
    for (const Vec2& p : picture.membrane().chart)
        for (int k = 0; k < 2; ++k) {
            low[k] = std::min(low[k], p[k]);
            high[k] = std::max(high[k], p[k]);
        }
    double least = 1e9;
    for (int i = 0; i <= steps; ++i)
        for (int j = 0; j <= steps; ++j) {
            ClothLaying laying = asked;
            laying.press_first = Vec2(low[0] + (high[0] - low[0]) * i / steps,
                                      low[1] + (high[1] - low[1]) * j / steps);
            if (!picture.covers(laying.press_first)) continue;
            if (const auto shear = picture.shear(laying, cell)) least = std::min(least, *shear);
        }
    return least;
}

TEST(BestLaying, NeedsNoMoreShearThanTheBestStartOfAFineGrid) {
    for (const Case& c : cases()) {
        const auto picture = ClothPicture::of(c.lay, "1A");
        ASSERT_TRUE(picture) << picture.error().message();
        const ClothLaying asked{.press_first = {-60.0, 10.0}, .x = {1, 0, 0}, .axis_degrees = 10.0};
        const double found = *picture->shear(best_laying(*picture, asked, {}), cell);
        const double least = least_on_grid(*picture, asked, 12);
        EXPECT_LE(found, least + 0.5) << c.name;
    }
}

TEST(BestLaying, TurnsTheAxisAsFarAsItMayAndNoFarther) {
    for (const Case& c : cases()) {
        const auto picture = ClothPicture::of(c.lay, "1A");
        ASSERT_TRUE(picture) << picture.error().message();
        const ClothLaying asked{.press_first = {-60.0, 10.0}, .x = {1, 0, 0}, .axis_degrees = 20.0};
        for (const double free : {5.0, 30.0}) {
            const ClothLaying best =
                best_laying(*picture, asked, {.free_start = false, .axis_free = free});
            EXPECT_LE(std::abs(best.axis_degrees - 20.0), free + 1e-9) << c.name;
            EXPECT_EQ(best.press_first, asked.press_first) << "the start was given";
            double least = 1e9;
            for (double turn = -free; turn <= free; turn += free / 10.0) {
                ClothLaying laying = asked;
                laying.axis_degrees += turn;
                least = std::min(least, picture->shear(laying, cell).value_or(1e9));
            }
            EXPECT_LE(*picture->shear(best, cell), least + 0.5) << c.name << ", free " << free;
        }
    }
}

}  // namespace
}  // namespace tearline::pieces

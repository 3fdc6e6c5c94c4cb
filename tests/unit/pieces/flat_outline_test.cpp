#include "core/pieces/flat_outline.h"

#include <gtest/gtest.h>

#include "core/plane/crossings.h"
#include "tests/support/analytic_meshes.h"

namespace tearline::pieces {
namespace {

TEST(FlatOutline, RunsCounterClockwiseRoundTheOutsideAndClockwiseRoundHoles) {
    auto figure = test::disc(100.0, 12);
    figure = test::with_hole(figure, {-40.0, 0.0}, 20.0);
    figure = test::with_hole(figure, {45.0, 10.0}, 15.0);
    const auto mesh = test::on_cylinder(figure, 500.0);
    const Region2 region = flat_outline(mesh, figure.place);
    ASSERT_EQ(region.holes.size(), 2u);
    EXPECT_GT(signed_area(region.outer), 0.0);
    double triangles = 0.0;
    for (const auto& v : mesh.triangle)
        triangles += 0.5 * cross2(figure.place[v[1]] - figure.place[v[0]],
                                  figure.place[v[2]] - figure.place[v[0]]);
    for (const Loop2& hole : region.holes) EXPECT_LT(signed_area(hole), 0.0);
    // Green: the loops enclose what the triangles cover.
    EXPECT_NEAR(area(region), triangles, 1e-6);
    EXPECT_FALSE(plane::crosses_itself(region));
}

}  // namespace
}  // namespace tearline::pieces

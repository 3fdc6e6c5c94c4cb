#include "core/patch/shorten_facets.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <memory>

#include "tests/support/analytic_carriers.h"
#include "tests/support/remesh_meshes.h"

namespace tearline::patch {
namespace {

CroppedHull strip(double length) {
    CroppedHull out{test::remesh_mesh(test::rectangle_mesh(length, 40, 1, 1)),
                    std::make_shared<test::PlaneCarrier>()};
    test::keep_rim_along(out.mesh, 0);
    test::keep_rim_along(out.mesh, 40);
    return out;
}

TEST(ShortenFacets, LeavesWhatLiesInTheBall) {
    // By hand: of a strip of 20 m the ball holds 200 mm; facets that it touches are at most 4/3 of
    // its radius long and go on to both sides.
    CroppedHull cropped = strip(20000);
    const Vec3 centre(7000, 20, 0);
    shorten_facets(cropped, centre, 100.0, centre);
    test::expect_sound(cropped.mesh);
    const double area = test::area_of(cropped.mesh);
    EXPECT_GE(area, 200 * 40);
    EXPECT_LE(area, (200 + 2 * 134) * 40);
    double left = 1e9, right = 0.0;
    for (const TriangleId t : cropped.mesh.triangle.ids())
        for (int i = 0; i < 3; ++i) {
            const Vec3 &a = cropped.mesh.point(t, i), &b = cropped.mesh.point(t, i + 1);
            left = std::min(left, a.x());
            right = std::max(right, a.x());
            // The strip still ends at both of its sides, and nowhere else.
            EXPECT_EQ(cropped.mesh.triangle[t].kept[i].hull_end,
                      a.y() == b.y() && (a.y() == 0.0 || a.y() == 40.0));
        }
    EXPECT_LE(left, 6900.0);
    EXPECT_GE(right, 7100.0);
}

TEST(ShortenFacets, LeavesAHullOfUsualFacetsAsItIs) {
    CroppedHull cropped = strip(3190);
    shorten_facets(cropped, {100, 20, 0}, 100.0, {100, 20, 0});
    EXPECT_EQ(cropped.mesh.triangle.size(), 2u);
    EXPECT_EQ(cropped.mesh.vertex.size(), 4u);
}

}  // namespace
}  // namespace tearline::patch

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <string>
#include <utility>

#include "tests/support/gridded_scan.h"

namespace tearline {
namespace {

using scanned::OverHole;
using scanned::Scanner;

constexpr double hole = 150.0;  // [mm] radius

TEST(CgalHoleFilling, BridgesASphereAsFarOffAsAPrototypeFound) {
    // By a prototype of another make on the same hole without noise (CGAL 5.5.1): 0.14 mm in the
    // middle with continuity 1, 0.31 with 2, on R 750. So the peer is asked as it was there.
    const auto sphere = scanned::arcs(1 / 750.0, 1 / 750.0);
    const Scanner by{.spacing = 5.0, .dent_radius = 0.0};
    const test::Facets scan = scanned::with_hole(scanned::scan_of(sphere, by), by, hole);
    const auto one = scanned::off_over_hole(sphere, test::cgal_filled(scan, 1).points, hole);
    const auto two = scanned::off_over_hole(sphere, test::cgal_filled(scan, 2).points, hole);
    EXPECT_NEAR(one.middle, 0.14, 0.14);
    EXPECT_NEAR(two.middle, 0.31, 0.31);
}

TEST(FairSurface, IsNoFartherOffThanCgalsFilledHoles) {
    // 24 scans of six surfaces: CGAL triangulates, refines and fairs the hole (continuity 1)
    // through the same points.
    const std::array shapes{scanned::arcs(0, 0),
                            scanned::arcs(1 / 750.0, 1 / 750.0),
                            scanned::arcs(0, 1 / 300.0),
                            scanned::arcs(1 / 900.0, -1 / 700.0),
                            scanned::arcs(1 / 1500.0, 1 / 400.0, 20.0),
                            scanned::bilge(1 / 2000.0, 1 / 250.0, 400.0)};
    const std::array<std::pair<double, double>, 2> kinds{{{0.1, 4.0}, {1.0, 8.0}}};
    for (const auto& [spread, correlation] : kinds) {
        OverHole ours, theirs;  // sums of squares
        for (const auto& shape : shapes)
            for (unsigned start = 1; start <= 4; ++start) {
                const Scanner by{.spread = spread,
                                 .correlation = correlation,
                                 .spacing = 5.0,
                                 .half = 285.0,
                                 .start = start,
                                 .dent_radius = 0.0};
                const std::vector<Vec3> points = scanned::scan_of(shape, by);
                const auto filled = test::cgal_filled(scanned::with_hole(points, by, hole), 1);
                const OverHole cgal = scanned::off_over_hole(shape, filled.points, hole);
                const auto surface =
                    scan::fair_surface(points, scanned::request_about(shape, by, hole));
                ASSERT_TRUE(surface) << surface.error().message();
                const OverHole fair = scanned::off_over_hole(shape, filled.points, hole, *surface);
                ours.middle += fair.middle * fair.middle;
                ours.rms += fair.rms * fair.rms;
                theirs.middle += cgal.middle * cgal.middle;
                theirs.rms += cgal.rms * cgal.rms;
            }
        EXPECT_LE(ours.middle, theirs.middle) << spread;
        EXPECT_LE(ours.rms, theirs.rms) << spread;
        RecordProperty("rms_of_" + std::to_string(spread),
                       std::to_string(std::sqrt(ours.rms / 24)) + " mm, CGAL " +
                           std::to_string(std::sqrt(theirs.rms / 24)) + " mm");
    }
}

}  // namespace
}  // namespace tearline

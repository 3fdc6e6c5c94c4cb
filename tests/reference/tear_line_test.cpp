#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/loops.h"
#include "tests/support/planned.h"

/// The tear line of real plans: Steiner's formula for convex edges, distance for all.
namespace tearline::tear_line_test {
namespace {

using std::numbers::pi;
constexpr double margin = 20.0;  // of every mat in the catalogue

TEST(TearLineReference, OfConvexPliesHasSteinersAreaAndPerimeter) {
    // Steiner: A + P m + pi m^2 and P + 2 pi m, for the net lines of discs, ellipses (cylinder)
    // and the developed discs of a cone.
    for (const char* name : {"cylinder", "sphere", "cone"}) {
        const Plan plan = test::planned(test::sample_text(name));
        for (const templates::LaidPly& ply : plan.plies) {
            const templates::Template& piece = ply.pieces.at(0).outline;
            const double P = perimeter(piece.net.outer);
            const double steiner = signed_area(piece.net.outer) + P * margin + pi * margin * margin;
            ASSERT_TRUE(piece.tear.has_value());
            EXPECT_NEAR(piece.area_mm2 / steiner, 1.0, 1e-4) << name << ply.number;
            EXPECT_NEAR(perimeter(piece.tear->outer), P + 2 * pi * margin, 0.1)
                << name << ply.number;
            // Half the band is weighed: it thins linearly to nothing (DEFINITIONS.md, Tear margin).
            const double grams = plan.job.fabrics.at(ply.fabric).weight.value();
            const double net = signed_area(piece.net.outer);
            const double glass = quantities::amounts_of(plan.quantities, ply.number).glass_g;
            EXPECT_NEAR(glass, grams * 1e-6 * 0.5 * (net + steiner), 2e-4 * glass);
        }
    }
}

TEST(TearLineReference, RunsAtTheMarginFromTheNetLineOnRealHulls) {
    for (const char* name : {"curlew", "sandpiper"}) {
        const Plan plan = test::planned(test::sample_text(name));
        for (const templates::LaidPly& ply : plan.plies) {
            const templates::Template& piece = ply.pieces.at(0).outline;
            ASSERT_TRUE(piece.tear.has_value());
            for (const Vec2& p : test::with_middles(piece.tear->outer)) {
                const double off = test::distance_to(piece.net.outer, p);
                EXPECT_NEAR(off, margin, 0.02) << name << ply.number << ": " << p.transpose();
            }
            const double steiner = signed_area(piece.net.outer) +
                                   perimeter(piece.net.outer) * margin + pi * margin * margin;
            EXPECT_LE(piece.area_mm2, steiner * (1.0 + 1e-4))
                << "never more than for a convex edge";
        }
    }
}

}  // namespace
}  // namespace tearline::tear_line_test

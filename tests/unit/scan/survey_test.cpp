#include "core/scan/survey.h"

#include <gtest/gtest.h>

#include <array>

#include "tests/support/scanned_shapes.h"

namespace tearline::scan {
namespace {

TEST(Survey, TellsInsideFromOutsideAlikeAllOver) {
    // By construction: dents of 10 mm, 60 mm wide, in a cylinder of 600 mm, inside it wherever they
    // are; what is bent about them bridges half of it at least.
    const scanned::Shape hull = scanned::arcs(0.0, 1 / 600.0);
    const std::array<Vec2, 4> dents{Vec2(-300, -350), Vec2(-250, 360), Vec2(320, -300),
                                    Vec2(280, 340)};
    std::vector<double> nearest(dents.size(), 1e9);
    std::array<Vec3, 4> bottoms;
    Scan scan;
    for (double u = -450.0; u <= 450.0; u += 6.0)
        for (double v = -500.0; v <= 500.0; v += 6.0) {
            double out = 0.0;
            for (const Vec2& dent : dents)
                if ((Vec2(u, v) - dent).norm() < 30.0) out = -10.0;
            scan.points.push_back(hull({u, v}, out));
            for (std::size_t i = 0; i < dents.size(); ++i)
                if (const double off = (Vec2(u, v) - dents[i]).norm(); off < nearest[i]) {
                    nearest[i] = off;
                    bottoms[i] = scan.points.back();
                }
        }
    const auto seen = survey(scan, job::ScanKind::light);
    ASSERT_TRUE(seen) << seen.error().message();
    ASSERT_GT(seen->places, 8U);
    for (const Vec3& bottom : bottoms) {
        double off = 0.0;
        for (const auto& [at, misfit] : seen->misfit)
            if ((at - bottom).norm() < 1e-9) off = misfit;
        EXPECT_LT(off, -5.0) << bottom.transpose();
    }
}

}  // namespace
}  // namespace tearline::scan

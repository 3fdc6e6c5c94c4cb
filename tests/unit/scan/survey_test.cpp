#include "core/scan/survey.h"

#include <gtest/gtest.h>

#include <array>
#include <sstream>
#include <string>

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

/// The place that stands behind some words.
Vec3 place_behind(const std::string& text, const std::string& words) {
    const std::size_t at = text.find(words);
    EXPECT_NE(at, std::string::npos) << words;
    Vec3 place(0, 0, 0);
    std::istringstream in(text.substr(at + words.size()));
    char sign = 0;
    in >> sign >> place.x() >> sign >> place.y() >> sign >> place.z();
    return place;
}

TEST(SurveyPicture, ShowsTheHullFromOutsideHoweverItIsTurned) {
    // By construction: of a cylinder of 600 mm outside is away from its axis. Right across up
    // points at who looks at it; its mirror image would put a damage on the wrong side of the boat.
    const scanned::Shape hull = scanned::arcs(0.0, 1 / 600.0);
    const Vec3 outward = hull({0, 0}, 1.0) - hull({0, 0}, 0.0);
    for (const double turn : {0.0, 0.9, 1.8, 2.7, 3.6, 4.5, 5.4}) {
        const Eigen::AngleAxisd turned(turn, Vec3(1, -2, 0.5).normalized());
        Scan scan;
        for (double u = -300.0; u <= 300.0; u += 6.0)
            for (double v = -200.0; v <= 200.0; v += 6.0)
                scan.points.push_back(turned * hull({u, v}, 0.0));
        const auto seen = survey(scan, job::ScanKind::light);
        ASSERT_TRUE(seen) << seen.error().message();
        const std::string picture = survey_picture(*seen);
        const Vec3 left = place_behind(picture, "Lower left corner of the scan ");
        const Vec3 right = place_behind(picture, "lower right ") - left;
        const Vec3 up = place_behind(picture, "upper left ") - left;
        EXPECT_GT(right.norm(), up.norm());
        EXPECT_GT(right.cross(up).normalized().dot(turned * outward), 0.99) << turn;
    }
}

}  // namespace
}  // namespace tearline::scan

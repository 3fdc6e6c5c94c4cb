#include "core/flattening/metric_chart.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/analytic_meshes.h"

namespace tearline::flattening {
namespace {

/// A flat surface pictured by a linear map of its plane.
MetricChart pictured(const Eigen::Matrix2d& map, const test::PlaneMesh& figure) {
    std::vector<Vec2> places;
    for (const Vec2& p : figure.place) places.emplace_back(map * p);
    return {test::on_cylinder(figure, 1e9), places};
}

/// A cap of a sphere pictured by its geodesic polar chart.
struct PolarCap {
    double radius;
    test::PlaneMesh figure;
    surface::SurfaceMesh mesh;
    MetricChart chart;

    PolarCap(double R, double reach, int rings)
        : radius(R),
          figure(test::disc(reach, rings)),
          mesh(test::on_sphere(figure, R)),
          chart(mesh, figure.place) {}

    [[nodiscard]] Vec3 unit(const Vec2& p) const {
        const double r = p.norm(), a = r / radius;
        if (!(r > 0.0)) return {0, 0, 1};
        return {std::sin(a) * p.x() / r, std::sin(a) * p.y() / r, std::cos(a)};
    }
    /// Closed form: 1 along the radius, (sin(r/R) / (r/R))^2 across it.
    [[nodiscard]] Eigen::Matrix2d exact(const Vec2& p) const {
        const double a = p.norm() / radius;
        const double across = a > 0.0 ? std::pow(std::sin(a) / a, 2) : 1.0;
        const Vec2 e = p.normalized();
        return e * e.transpose() + across * turned_left(e) * turned_left(e).transpose();
    }
};

Eigen::Matrix2d matrix(const Metric& m) {
    Eigen::Matrix2d out;
    out << m.xx, m.xy, m.xy, m.yy;
    return out;
}

TEST(Metric, MeasuresAsItsMatrixDoes) {
    // By hand, xx = 4, xy = 1, yy = 9: (1, 2) measures 4 + 4 + 36 = 44, and with (3, -1)
    // (6, 19) . (3, -1) = -1.
    const Metric m{4.0, 1.0, 9.0};
    EXPECT_EQ(m.times({1, 2}), Vec2(6, 19));
    EXPECT_DOUBLE_EQ(m.length({1, 2}), std::sqrt(44.0));
    EXPECT_DOUBLE_EQ(m.product({1, 2}, {3, -1}), -1.0);
    EXPECT_DOUBLE_EQ(m.product({3, -1}, {1, 2}), -1.0);
}

TEST(MetricChart, OfALinearPictureIsTheSameEverywhere) {
    // Closed form: a picture q = M p has the metric M^-T M^-1, inside and beyond the rim.
    Eigen::Matrix2d map;
    map << 1.4, 0.3, -0.2, 0.8;
    const MetricChart chart = pictured(map, test::disc(60, 6));
    const Eigen::Matrix2d exact = (map * map.transpose()).inverse();
    std::mt19937 random(11);  // fixed start value
    std::uniform_real_distribution<double> across(-120.0, 120.0);
    for (int k = 0; k < 200; ++k) {
        const Vec2 p(across(random), across(random));
        EXPECT_LT((matrix(chart.metric(p)) - exact).norm(), 1e-6) << p.transpose();
        const auto sample = chart.sample(p);
        EXPECT_LT(matrix(sample.along_x).norm(), 1e-6);
        EXPECT_LT(matrix(sample.along_y).norm(), 1e-6);
    }
}

TEST(MetricChart, OfAPolarCapIsTheClosedForm) {
    const PolarCap cap(100.0, 80.0, 20);
    for (const Vec2& p : {Vec2(10, 5), Vec2(-40, 20), Vec2(3, -60), Vec2(50, 50)}) {
        // Second order in the edges of 4 mm: (4 / 100)^2, times a few.
        EXPECT_LT((matrix(cap.chart.metric(p)) - cap.exact(p)).norm(), 5e-3) << p.transpose();
        const double h = 1.0;
        const auto sample = cap.chart.sample(p);
        const Eigen::Matrix2d x = (cap.exact(p + Vec2(h, 0)) - cap.exact(p - Vec2(h, 0))) / (2 * h);
        const Eigen::Matrix2d y = (cap.exact(p + Vec2(0, h)) - cap.exact(p - Vec2(0, h))) / (2 * h);
        EXPECT_LT((matrix(sample.along_x) - x).norm(), 1e-3) << p.transpose();
        EXPECT_LT((matrix(sample.along_y) - y).norm(), 1e-3) << p.transpose();
    }
}

TEST(MetricChart, StrokeAlongARadiusIsItsGeodesicLength) {
    // Along the radius of the polar picture lengths are true; across it, an arc of a small circle.
    const PolarCap cap(100.0, 80.0, 20);
    const Vec2 e = Vec2(3, 4) / 5.0;
    const auto radial = cap.chart.stroke(20 * e, 60 * e);
    EXPECT_NEAR(radial.length, 40.0, 0.05);
    EXPECT_LT((radial.slope - e).norm(), 0.01);
    const auto back = cap.chart.stroke(60 * e, 20 * e);
    EXPECT_NEAR(back.length, radial.length, 1e-9) << "the same both ways";
    EXPECT_LT((back.slope + radial.slope).norm(), 0.02);
    const Vec2 a = 50 * e, b = a + 4 * turned_left(e);
    const double exact = 100.0 * std::acos(cap.unit(a).dot(cap.unit(b)));
    EXPECT_NEAR(cap.chart.stroke(a, b).length, exact, 0.02);
}

TEST(MetricChart, StrokeSlopeIsTheChangeOfItsLength) {
    // Second route: differences, where the metric is one everywhere.
    Eigen::Matrix2d map;
    map << 1.2, 0.4, 0.1, 0.9;
    const MetricChart chart = pictured(map, test::disc(60, 5));
    const Vec2 from(-10, 4), to(15, 20);
    const auto stroke = chart.stroke(from, to);
    EXPECT_NEAR(stroke.length, (map.inverse() * (to - from)).norm(), 1e-6);
    const double h = 1e-4;
    for (const Vec2& way : {Vec2(1, 0), Vec2(0, 1)}) {
        const double slope =
            (chart.stroke(from, to + h * way).length - chart.stroke(from, to - h * way).length) /
            (2 * h);
        EXPECT_NEAR(stroke.slope.dot(way), slope, 1e-6);
    }
}

TEST(MetricChart, GeodesicsAreStraightOnAFlatSurfaceHoweverPictured) {
    Eigen::Matrix2d map;
    map << 1.4, 0.3, -0.2, 0.8;
    const MetricChart chart = pictured(map, test::disc(80, 8));
    const Vec2 along = Vec2(map * Vec2(0.6, 0.8));  // unit on the surface
    MetricChart::Step step{Vec2(map * Vec2(-20, -30)), along};
    for (int k = 0; k < 10; ++k) step = chart.geodesic_step(step, 5.0);
    const Vec2 expected = map * (Vec2(-20, -30) + 50.0 * Vec2(0.6, 0.8));
    EXPECT_LT((step.at - expected).norm(), 1e-4);
    EXPECT_LT((step.direction - along).norm(), 1e-6);
}

TEST(MetricChart, GeodesicsAreGreatCirclesOnASphere) {
    // Closed form: every point of the way lies in the plane of the start's point and direction, at
    // the angle s / R. Picture and metric are second order in edges of 2.7 mm.
    const PolarCap cap(100.0, 80.0, 30);
    const Vec2 from(-30, -25);
    for (const double angle : {0.2, 0.9, 1.7, 2.6}) {
        const Vec2 e(std::cos(angle), std::sin(angle));
        MetricChart::Step step{from, e / cap.chart.metric(from).length(e)};
        const double h = 1e-3;
        const Vec3 start = cap.unit(from);
        const Vec3 way = (cap.unit(from + h * e) - cap.unit(from - h * e)).normalized();
        for (int k = 1; k <= 12; ++k) {
            step = cap.chart.geodesic_step(step, 4.0);
            if (step.at.norm() > 75.0) break;
            const double s = 4.0 * k / 100.0;
            const Vec3 expected = std::cos(s) * start + std::sin(s) * way;
            EXPECT_LT(100.0 * (cap.unit(step.at) - expected).norm(), 0.05) << angle << " " << k;
            EXPECT_NEAR(cap.chart.metric(step.at).length(step.direction), 1.0, 1e-12);
        }
    }
}

TEST(MetricChart, BeyondTheRimIsThatOfTheNearestRimPoint) {
    // A cap's rim all round: by symmetry the metric beyond at angle t is that of the rim at t, and
    // it has no slope there.
    const PolarCap cap(100.0, 80.0, 16);
    for (int k = 0; k < 48; ++k) {
        const double a = 2 * std::numbers::pi * (k + 0.3) / 48;
        const Vec2 e(std::cos(a), std::sin(a));
        const auto at_rim = matrix(cap.chart.metric(79.5 * e));
        for (const double out : {82.0, 95.0, 140.0}) {
            EXPECT_LT((matrix(cap.chart.metric(out * e)) - at_rim).norm(), 0.02) << k << " " << out;
            EXPECT_EQ(matrix(cap.chart.sample(out * e).along_x).norm(), 0.0);
        }
    }
}

}  // namespace
}  // namespace tearline::flattening

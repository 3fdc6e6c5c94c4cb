#pragma once
#include <functional>
#include <numbers>
#include <vector>

#include "core/damage/damage_outline.h"
#include "core/surface/patch.h"

/// Damage outlines drawn in the chart of an analytic patch.
namespace tearline::test {

/// A closed curve in the chart by pieces, each smooth over [0, 1] and run counter-clockwise.
using ChartCurve = std::vector<std::function<Vec2(double)>>;

inline damage::DamageOutline chart_outline(const surface::Patch& patch, const ChartCurve& curve,
                                           int points_a_piece) {
    damage::DamageOutline outline;
    const auto place = [&](const Vec2& p) { return patch.sample(*patch.locate(p)).position; };
    const std::size_t pieces = curve.size();
    for (std::size_t k = 0; k < pieces; ++k)
        for (int i = 0; i < points_a_piece; ++i) {
            const double t = static_cast<double>(i) / points_a_piece;
            const double h = 1e-6;
            damage::OutlinePoint point;
            const Vec2 p = curve[k](t);
            point.at = *patch.locate(p);
            point.position = place(p);
            const auto along = [&](const std::function<Vec2(double)>& piece, double from,
                                   double to) {
                return Vec3((place(piece(to)) - place(piece(from))).normalized());
            };
            // One-sided, since the point may lie on a crease.
            point.tangent_out = along(curve[k], t, t + h);
            point.tangent_in = i > 0 ? along(curve[k], t - h, t)
                                     : along(curve[(k + pieces - 1) % pieces], 1.0 - h, 1.0);
            outline.points.push_back(point);
            outline.chart.push_back(p);
        }
    return outline;
}

inline ChartCurve circle_curve(const Vec2& centre, double radius) {
    return {[=](double t) -> Vec2 {
        const double a = 2 * std::numbers::pi * t;
        return centre + radius * Vec2(std::cos(a), std::sin(a));
    }};
}

inline ChartCurve polygon_curve(const Loop2& corners) {
    ChartCurve curve;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Vec2 a = corners[i], b = corners[(i + 1) % corners.size()];
        curve.push_back([=](double t) -> Vec2 { return (1 - t) * a + t * b; });
    }
    return curve;
}

}  // namespace tearline::test

#pragma once
#include <Eigen/Geometry>
#include <cmath>
#include <functional>
#include <map>
#include <memory>
#include <numbers>
#include <utility>
#include <vector>

#include "core/surface/patch.h"
#include "core/surface/surface_behind.h"

/// Patches of surfaces known in closed form, for tests of whatever comes after core/surface.
namespace tearline::test {

/// A surface given by a map from the chart: `side` is -1 or +1 where the chart's x = 0 is a crease.
using AnalyticMap = std::function<surface::SurfaceSample(const Vec2& chart, int side)>;

/// Evaluates the map at the chart point of a location.
class AnalyticSurface final : public surface::SurfaceBehind {
public:
    AnalyticSurface(std::vector<Vec2> chart, AnalyticMap map)
        : chart_(std::move(chart)), map_(std::move(map)) {}
    [[nodiscard]] surface::SurfaceSample at(const surface::SurfaceMesh& mesh,
                                            const surface::Location& at) const override {
        const auto& v = mesh.triangle[at.triangle.index()];
        const Vec2 p = at.weights[0] * chart_[v[0]] + at.weights[1] * chart_[v[1]] +
                       at.weights[2] * chart_[v[2]];
        const double middle = chart_[v[0]].x() + chart_[v[1]].x() + chart_[v[2]].x();
        return map_(p, middle < 0.0 ? -1 : 1);
    }

private:
    std::vector<Vec2> chart_;
    AnalyticMap map_;
};

/// A patch over the part of the chart where `inside` holds, with edges of about `edge` mm.
///
/// Equilateral triangles with edges along the chart's x = 0, which is a crease when `creased`.
/// @param hull_end  whether the rim is the hull's own end
inline surface::Patch analytic_patch(const AnalyticMap& map,
                                     const std::function<bool(const Vec2&)>& inside, double extent,
                                     double edge, bool creased = false, bool hull_end = false) {
    surface::Patch patch;
    const double dx = edge * std::sqrt(3.0) / 2.0;
    const int n = static_cast<int>(extent / dx) + 2;
    const int m = static_cast<int>(extent / edge) + 2;
    std::map<std::pair<int, int>, std::int32_t> id;
    const auto at = [&](int i, int j) {
        return Vec2(i * dx, (j + (i % 2 != 0 ? 0.5 : 0.0)) * edge);
    };
    const auto vertex = [&](int i, int j) {
        const auto [found, fresh] = id.try_emplace({i, j}, static_cast<int>(patch.chart.size()));
        if (fresh) patch.chart.push_back(at(i, j));
        return found->second;
    };
    const auto add = [&](std::pair<int, int> a, std::pair<int, int> b, std::pair<int, int> c) {
        for (const auto& [i, j] : {a, b, c})
            if (!inside(at(i, j))) return;
        patch.mesh.triangle.push_back(
            {vertex(a.first, a.second), vertex(b.first, b.second), vertex(c.first, c.second)});
    };
    for (int i = -n; i < n; ++i)
        for (int j = -m; j < m; ++j) {
            const int up = i % 2 != 0 ? 1 : 0;
            add({i, j}, {i + 1, j + up}, {i, j + 1});
            add({i + 1, j + up - 1}, {i + 1, j + up}, {i, j});
        }
    patch.mesh.position.resize(patch.chart.size());
    patch.crease.resize(patch.mesh.triangle.size(), {false, false, false});
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
        const auto& v = patch.mesh.triangle[t];
        const double middle = patch.chart[v[0]].x() + patch.chart[v[1]].x() + patch.chart[v[2]].x();
        patch.mesh.corner_normal.emplace_back();
        for (int k = 0; k < 3; ++k) {
            const auto s = map(patch.chart[v[k]], middle < 0.0 ? -1 : 1);
            patch.mesh.position[v[k]] = s.position;
            patch.mesh.corner_normal[t][k] = s.normal;
            patch.crease[t][k] =
                creased && patch.chart[v[k]].x() == 0.0 && patch.chart[v[(k + 1) % 3]].x() == 0.0;
        }
    }
    if (hull_end) patch.hull_end.assign(patch.mesh.triangle.size(), {true, true, true});
    patch.behind = std::make_shared<AnalyticSurface>(patch.chart, map);
    finish_patch(patch);
    if (hull_end)
        for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
            for (int k = 0; k < 3; ++k) patch.hull_end[t][k] = patch.neighbour[t][k] < 0;
    return patch;
}

inline std::function<bool(const Vec2&)> within_disc(double radius) {
    return [radius](const Vec2& p) { return p.norm() <= radius; };
}
inline std::function<bool(const Vec2&)> within_box(double half_x, double half_y) {
    return [=](const Vec2& p) { return std::abs(p.x()) <= half_x && std::abs(p.y()) <= half_y; };
}

/// The plane z = 0, normal +z.
inline surface::SurfaceSample plane_map(const Vec2& p, int) {
    return {{p.x(), p.y(), 0.0}, {0, 0, 1}, 0.0, 0.0};
}

/// A sphere of radius R seen from outside; the chart's radius is the geodesic distance from the
/// pole at the origin. Negative R: seen from inside.
inline AnalyticMap sphere_map(double R) {
    return [R](const Vec2& p, int) {
        const double r = p.norm();
        const double a = r / R;
        const Vec2 e = r > 0.0 ? Vec2(p / r) : Vec2(1, 0);
        const Vec3 n(std::sin(a) * e.x(), std::sin(a) * e.y(), std::cos(a));
        return surface::SurfaceSample{R * (n - Vec3(0, 0, 1)), n, 1.0 / R, 1.0 / R};
    };
}

/// A cylinder of radius R about the line x = 0, z = -R (axis along y), seen from outside; an exact
/// chart.
inline AnalyticMap cylinder_map(double R) {
    return [R](const Vec2& p, int) {
        const double a = p.x() / R;
        const Vec3 n(std::sin(a), 0.0, std::cos(a));
        return surface::SurfaceSample{R * (n - Vec3(0, 0, 1)) + Vec3(0, p.y(), 0), n,
                                      std::min(0.0, 1.0 / R), std::max(0.0, 1.0 / R)};
    };
}

/// Two planes meeting along the y axis, each turned down by half of `turn` [rad]: a convex crease
/// for turn > 0. An exact chart.
inline AnalyticMap wedge_map(double turn) {
    return [turn](const Vec2& p, int side) {
        const double a = 0.5 * turn * side;
        return surface::SurfaceSample{{p.x() * std::cos(a), p.y(), -p.x() * std::sin(a)},
                                      {std::sin(a), 0.0, std::cos(a)},
                                      0.0,
                                      0.0};
    };
}

/// Constant curvature -1/R^2, without closed-form z: a surface of revolution about the line
/// x = 0, z = -R with meridian distance y and parallel distance x measured at the waist:
/// radius R cosh(y/R). Its height along the axis is integrated to rounding (Gauss-Legendre, 5
/// points).
inline AnalyticMap pseudosphere_map(double R) {
    return [R](const Vec2& p, int) {
        const double u = p.y() / R;
        const double f = p.x() / R;
        const double radius = R * std::cosh(u);
        const double slope = std::sinh(u);                   // d radius / d y
        const double rise = std::sqrt(1.0 - slope * slope);  // d height / d y
        constexpr std::array<double, 5> node{-0.9061798459386640, -0.5384693101056831, 0.0,
                                             0.5384693101056831, 0.9061798459386640};
        constexpr std::array<double, 5> weight{0.2369268850561891, 0.4786286704993665,
                                               0.5688888888888889, 0.4786286704993665,
                                               0.2369268850561891};
        double height = 0.0;
        constexpr int parts = 8;
        for (int k = 0; k < parts; ++k)
            for (std::size_t i = 0; i < node.size(); ++i) {
                const double x = u * (k + 0.5 + 0.5 * node[i]) / parts;
                height += 0.5 * u / parts * weight[i] * std::sqrt(1.0 - std::pow(std::sinh(x), 2));
            }
        const Vec3 out(std::sin(f), 0.0, std::cos(f));
        const Vec3 n = rise * out - slope * Vec3(0, 1, 0);
        const double meridian = -std::cosh(u) / (R * rise);  // curves away from the laying side
        const double parallel = rise / radius;
        return surface::SurfaceSample{radius * out + Vec3(0, R * height, -R), n, meridian,
                                      parallel};
    };
}

/// A cone of half-angle `half` [rad] and radius R at the chart's origin, apex beyond +y; an exact
/// chart, the developed sector with its slant line along y.
inline AnalyticMap cone_map(double R, double half) {
    return [R, half](const Vec2& p, int) {
        const double slant = R / std::sin(half);
        const Vec2 from_apex(p.x(), p.y() - slant);
        const double s = from_apex.norm();
        const double around = std::atan2(from_apex.x(), -from_apex.y()) / std::sin(half);
        const Vec3 out(std::sin(around), 0.0, std::cos(around));
        const Vec3 n = std::cos(half) * out + std::sin(half) * Vec3(0, 1, 0);
        return surface::SurfaceSample{
            s * std::sin(half) * out + Vec3(0, (slant - s) * std::cos(half), -R), n, 0.0,
            std::cos(half) / (s * std::sin(half))};
    };
}

}  // namespace tearline::test

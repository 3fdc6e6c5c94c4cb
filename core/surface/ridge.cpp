#include "core/surface/ridge.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <cmath>

#include "core/base/tolerances.h"

namespace tearline::surface {

Vec2 chart_step(const SheetPoint& point, const Vec3& step) {
    const Eigen::Matrix2d metric = point.along.transpose() * point.along;
    return metric.inverse() * (point.along.transpose() * step);
}

void move_foot(const SurfaceAtChart& at, SheetFoot& foot, const Vec3& step, const Vec3& other) {
    foot.chart += chart_step(foot.point, step);
    const auto there = at(foot.chart);
    if (there && there->normal.dot(foot.point.normal) >= there->normal.dot(other))
        foot.point = *there;
    else  // past the end of the chart or over the crease: the sheet goes on straight
        foot.point.position += step;
}

std::optional<RidgePoint> find_ridge(const SurfaceAtChart& at, const DepthAtChart& depth,
                                     const Section& section, RidgePoint start) {
    RidgePoint ridge = std::move(start);
    for (int step = 0; step < tolerance::most_ridge_steps; ++step) {
        const SheetPoint& a = ridge.left.point;
        const SheetPoint& b = ridge.right.point;
        Eigen::Matrix3d planes;
        planes << a.normal.transpose(), b.normal.transpose(), section.normal.transpose();
        if (!(std::abs(planes.determinant()) > tolerance::flat_crease)) return std::nullopt;
        ridge.position =
            planes.inverse() * Vec3(a.normal.dot(a.position) - depth(ridge.left.chart),
                                    b.normal.dot(b.position) - depth(ridge.right.chart),
                                    section.normal.dot(section.point));
        const auto tangential = [&](const SheetPoint& p) {
            const Vec3 off = ridge.position - p.position;
            return Vec3(off - off.dot(p.normal) * p.normal);
        };
        const Vec3 step_a = tangential(a);
        const Vec3 step_b = tangential(b);
        if (step_a.norm() + step_b.norm() < tolerance::ridge_step) return ridge;
        const Vec3 normal_a = a.normal;
        move_foot(at, ridge.left, step_a, b.normal);
        move_foot(at, ridge.right, step_b, normal_a);
    }
    return std::nullopt;
}

}  // namespace tearline::surface

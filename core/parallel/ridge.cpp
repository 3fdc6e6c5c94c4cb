#include "core/parallel/ridge.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "core/parallel/tolerances.h"

namespace tearline::parallel {

namespace {

/// [-] of a ridge step that is taken at least.
constexpr double least_share = 0.1;

}  // namespace

Vec2 chart_step(const SheetPoint& point, const Vec3& step) {
    const Eigen::Matrix2d metric = point.along.transpose() * point.along;
    return metric.inverse() * (point.along.transpose() * step);
}

void move_foot(const SurfaceAtChart& at, SheetFoot& foot, const Vec3& step,
               std::span<const Vec3> others) {
    foot.chart += chart_step(foot.point, step);
    const auto there = at(foot.chart);
    const auto farther = [&](const Vec3& other) {
        return there->normal.dot(foot.point.normal) >= there->normal.dot(other);
    };
    if (there && std::all_of(others.begin(), others.end(), farther))
        foot.point = *there;
    else  // past the end of the chart or over the crease: the sheet goes on straight
        foot.point.position += step;
}

std::optional<RidgePoint> find_ridge(const SurfaceAtChart& at, const DepthAtChart& depth,
                                     const Section& section, RidgePoint start) {
    RidgePoint ridge = std::move(start);
    using Steps = Eigen::Matrix<double, 6, 1>;
    Steps before = Steps::Zero();
    double share = 1.0;  // of each step that is taken
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
        // Where the normals turn fast, as beside a coarse mesh's facets, full steps go to and fro
        // past the point: the share follows from how a step answers the one before (Irons and
        // Tuck 1969).
        Steps both;
        both << step_a, step_b;
        if (step > 0) {
            const Steps change = both - before;
            const double wanted = -share * before.dot(change) / change.squaredNorm();
            share = std::isfinite(wanted) ? std::clamp(wanted, least_share, 1.0) : 1.0;
        }
        before = both;
        const Vec3 normal_a = a.normal;
        const Vec3 normal_b = b.normal;
        move_foot(at, ridge.left, share * step_a, {&normal_b, 1});
        move_foot(at, ridge.right, share * step_b, {&normal_a, 1});
    }
    return std::nullopt;
}

}  // namespace tearline::parallel

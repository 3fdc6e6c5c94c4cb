#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <vector>

#include "core/scan/robust.h"
#include "core/scan/tolerances.h"
#include "core/scan/trimmed_parabola.h"
#include "core/scan/two_arc.h"

namespace tearline::scan {

namespace {

constexpr int parameters = 8;  // three turns, three shifts, two curvatures
using Step = Eigen::Matrix<double, parameters, 1>;
using Normal = Eigen::Matrix<double, parameters, parameters>;

/// Distance from a circle with its derivatives by place and curvature.
struct OffArc {
    double value, by_x, by_y, by_k;
};

OffArc off_arc_with_rates(double x, double y, double k) {
    const double squares = x * x + y * y;
    const double q = k * squares + 2.0 * y;
    const double root = std::sqrt(std::max(tolerance::least_root, 1.0 + k * q));
    const double root_by_k = (k * squares + y) / root;
    return {q / (1.0 + root), k * x / root, (1.0 + k * y) / root,
            (squares * (1.0 + root) - q * root_by_k) / ((1.0 + root) * (1.0 + root))};
}

/// A point's distance from the base, and what turning, shifting and bending the base does to it.
double distance_and_rates(const TwoArc& base, const Vec3& point, double reach, Step& rates) {
    const Vec3 p = base.axes().transpose() * (point - base.origin());
    const OffArc profile = off_arc_with_rates(p.x(), p.z(), base.along());
    const OffArc whole = off_arc_with_rates(p.y(), profile.value, base.across());
    const Vec3 gradient(whole.by_y * profile.by_x, whole.by_x, whole.by_y * profile.by_y);
    // A turn w of the axes moves the point by -w x p in them; lengths are measured in `reach`, so
    // that all eight are of a size.
    rates.head<3>() = gradient.cross(p) / reach;
    rates.segment<3>(3) = -gradient;
    rates[6] = whole.by_y * profile.by_k / (reach * reach);
    rates[7] = whole.by_k / (reach * reach);
    return whole.value;
}

TwoArc moved(const TwoArc& base, const Step& step, double reach) {
    const Vec3 turn = step.head<3>() / reach;
    const double angle = turn.norm();
    Eigen::Matrix3d axes = base.axes();
    if (angle > 0.0) axes = axes * Eigen::AngleAxisd(angle, turn / angle).toRotationMatrix();
    const Vec3 origin = base.origin() + base.axes() * step.segment<3>(3);
    return {axes, origin, base.along() + step[6] / (reach * reach),
            base.across() + step[7] / (reach * reach)};
}

/// Sum of weighted Tukey losses, in units of the spread.
double loss(const TwoArc& base, std::span<const WeighedPoint> points, double spread) {
    double sum = 0.0;
    for (const WeighedPoint& point : points)
        sum += point.weight * tukey_loss(base.distance(point.at) / spread);
    return sum;
}

double spread_about(const TwoArc& base, std::span<const WeighedPoint> points, double floor) {
    std::vector<double> off;
    off.reserve(points.size());
    for (const WeighedPoint& point : points) off.push_back(std::abs(base.distance(point.at)));
    return std::max(floor, 1.4826 * median(off));
}

/// One round of damped steps at a fixed spread.
TwoArc settled(TwoArc base, std::span<const WeighedPoint> points, double spread, double reach) {
    double damping = tolerance::first_damping;
    double now = loss(base, points, spread);
    constexpr int most_steps = 30;
    for (int i = 0; i < most_steps; ++i) {
        Normal normal = Normal::Zero();
        Step right = Step::Zero(), rates;
        for (const WeighedPoint& point : points) {
            const double off = distance_and_rates(base, point.at, reach, rates);
            const double weight = point.weight * tukey_weight(off / spread);
            if (weight == 0.0) continue;
            normal.selfadjointView<Eigen::Lower>().rankUpdate(rates, weight);
            right -= weight * off * rates;
        }
        const double scale = normal.diagonal().maxCoeff();
        if (!(scale > 0.0)) return base;
        bool nearer = false;
        double moved_by = 0.0;
        for (int tries = 0; tries < 8 && !nearer; ++tries) {
            Normal damped = normal.selfadjointView<Eigen::Lower>();
            damped.diagonal().array() += damping * scale;
            const Step step = damped.ldlt().solve(right);
            const TwoArc trial = moved(base, step, reach);
            const double then = loss(trial, points, spread);
            nearer = then <= now;
            if (nearer) {
                moved_by = step.norm();
                base = trial;
                damping = std::max(tolerance::least_damping, damping * 0.1);
                if (now - then <= tolerance::settled_loss * now) i = most_steps;
                now = then;
            } else {
                damping *= 10.0;
            }
        }
        if (!nearer || moved_by < tolerance::settled_step * reach) break;
    }
    return base;
}

/// Axes along the principal directions of the quadric through the points, w outward.
struct Start {
    Eigen::Matrix3d axes;
    Vec3 origin;
    double first, second;  ///< curvatures along its u and v
};

/// @param counts  how much each point does at first
Start quadric_start(std::span<const WeighedPoint> points, std::vector<double> counts,
                    const Vec3& outward) {
    double total = 0.0;
    Vec3 middle = Vec3::Zero();
    for (std::size_t i = 0; i < points.size(); ++i) {
        middle += counts[i] * points[i].weight * points[i].at;
        total += counts[i] * points[i].weight;
    }
    middle /= total;
    Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 way = points[i].at - middle;
        spread += counts[i] * points[i].weight * way * way.transpose();
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> axes_of(spread);
    Start start;
    start.axes.col(0) = axes_of.eigenvectors().col(2);
    start.axes.col(2) = axes_of.eigenvectors().col(0);
    if (start.axes.col(2).dot(outward) < 0.0) start.axes.col(2) *= -1.0;
    start.axes.col(1) = start.axes.col(2).cross(start.axes.col(0));
    start.origin = middle;
    start.first = start.second = 0.0;

    // Twice: the normal of the first quadric is nearer to the surface's than the flat fit's.
    const double reach = std::sqrt(spread.trace() / total);
    for (int round = 0; round < 4; ++round) {
        Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
        Eigen::Matrix<double, 6, 1> right = Eigen::Matrix<double, 6, 1>::Zero();
        std::vector<double> off(points.size());
        const auto row = [&](const Vec3& at, double& height) {
            const Vec3 p = start.axes.transpose() * (at - start.origin) / reach;
            height = p.z();
            Eigen::Matrix<double, 6, 1> r;
            r << 1.0, p.x(), p.y(), p.x() * p.x(), p.x() * p.y(), p.y() * p.y();
            return r;
        };
        for (std::size_t i = 0; i < points.size(); ++i) {
            double height = 0.0;
            const auto r = row(points[i].at, height);
            const double weight = points[i].weight * counts[i];
            normal += weight * r * r.transpose();
            right += weight * height * r;
        }
        const Eigen::Matrix<double, 6, 1> c = normal.ldlt().solve(right);
        for (std::size_t i = 0; i < points.size(); ++i) {
            double height = 0.0;
            const auto r = row(points[i].at, height);
            off[i] = std::abs(height - r.dot(c));
        }
        const double wide = std::max(tolerance::least_wide, 1.4826 * median(off));
        for (std::size_t i = 0; i < points.size(); ++i) counts[i] = tukey_weight(off[i] / wide);

        const Vec3 normal_local = Vec3(-c[1], -c[2], 1.0).normalized();
        const Vec3 w = start.axes * normal_local;
        const Vec3 at = start.origin + reach * c[0] * start.axes.col(2);
        Eigen::Matrix2d bend;
        bend << 2.0 * c[3], c[4], c[4], 2.0 * c[5];
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> principal(bend);
        Vec3 u =
            start.axes * Vec3(principal.eigenvectors()(0, 0), principal.eigenvectors()(1, 0), 0.0);
        u = (u - u.dot(w) * w).normalized();
        start.axes.col(0) = u;
        start.axes.col(1) = w.cross(u);
        start.axes.col(2) = w;
        start.origin = at;
        const double steep = std::pow(normal_local.z(), 3);
        start.first = -principal.eigenvalues()[0] * steep / reach;
        start.second = -principal.eigenvalues()[1] * steep / reach;
    }
    return start;
}

/// A base at rest, and its robust loss [mm2].
struct Rested {
    TwoArc base;
    double cost = 0.0;
};

/// The better of both orders of the arcs.
Rested rested(const Start& start, std::span<const WeighedPoint> points, double floor) {
    double reach = 0.0;
    for (const WeighedPoint& point : points)
        reach = std::max(reach, (point.at - start.origin).norm());
    std::optional<Rested> best;
    for (const bool swapped : {false, true}) {
        Eigen::Matrix3d axes = start.axes;
        if (swapped) {
            axes.col(0) = start.axes.col(1);
            axes.col(1) = -start.axes.col(0);
        }
        TwoArc base(axes, start.origin, swapped ? start.second : start.first,
                    swapped ? start.first : start.second);
        double spread = 0.0;
        for (int round = 0; round < 6; ++round) {
            const double before = spread;
            spread = spread_about(base, points, floor);
            base = settled(base, points, spread, reach);
            if (before > 0.0 && std::abs(spread - before) < tolerance::settled_spread * spread)
                break;
        }
        const double cost = loss(base, points, spread) * spread * spread;
        if (!best || cost < best->cost) best = Rested{base, cost};
    }
    return *best;
}

}  // namespace

FittedBase fit_two_arc(std::span<const WeighedPoint> points, const Vec3& outward, double floor) {
    const std::vector<double> all(points.size(), 1.0);
    Rested best = rested(quadric_start(points, all, outward), points, floor);
    double spread = spread_about(best.base, points, 0.0);
    // No roughness any more: the hull is no two arcs, or what is not the hull has bent them.
    constexpr double rough = 3.0;  // floors
    if (spread > rough * floor) {
        const auto most = counts_of_most(points, outward);
        const Rested other = rested(quadric_start(points, most, outward), points, floor);
        if (other.cost < best.cost) {
            best = other;
            spread = spread_about(best.base, points, 0.0);
        }
    }
    return {best.base, spread};
}

}  // namespace tearline::scan

#include "core/hull/batten_patch.h"

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <string>

#include "core/base/tolerances.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

/// sin(k s) / k and (1 - cos(k s)) / k, for straight lines, too.
double sine_over(double k, double s) {
    const double a = k * s;
    return std::abs(a) < tolerance::straight_turn ? s * (1.0 - a * a / 6.0) : std::sin(a) / k;
}
double sagitta_over(double k, double s) {
    const double half = sine_over(0.5 * k, s);  // 2 sin(ks/2)/k
    return 0.5 * k * half * half;
}

/// The arc across, swung about the axis of the arc along: without the heights added.
Vec3 swung(const BattenPatch& patch, double u, double v) {
    const double rise = -sagitta_over(patch.across, v);
    return {(1.0 + patch.along * rise) * sine_over(patch.along, u), sine_over(patch.across, v),
            rise * std::cos(patch.along * u) - sagitta_over(patch.along, u)};
}

struct Tangents {
    Vec3 u, v;
};
Tangents tangents(const std::function<Vec3(double, double)>& at, double u, double v) {
    constexpr double h = tolerance::measured_step;
    return {(at(u + h, v) - at(u - h, v)) / (2.0 * h), (at(u, v + h) - at(u, v - h)) / (2.0 * h)};
}

}  // namespace

Vec3 BattenPatch::at(double u, double v) const {
    const Vec3 base = swung(*this, u, v);
    const double p = u / half, q = v / half;
    const double added =
        along_changes * p * p * q + across_changes * p * q * q + both_change * p * p * q * q;
    if (added == 0.0) return base;
    // The normal of a swung arc: the arc's own, swung.
    const double a = along * u, b = across * v;
    return base + added * Vec3(std::cos(b) * std::sin(a), std::sin(b), std::cos(b) * std::cos(a));
}

double BattenPatch::gap(double u, double v, Way way) const {
    const auto surface = [this](double s, double t) { return at(s, t); };
    const Tangents here = tangents(surface, u, v);
    const Vec3 normal = here.u.cross(here.v).normalized();
    const Vec3 direction = (way == Way::along ? here.u : here.v).normalized();
    double sum = 0.0;
    for (const double end : {-half, half}) {
        const Vec3 tip = at(u, v) + end * direction;
        // Down from the batten's end to the hull: surface(s, t) = tip - gap normal.
        Vec3 unknown(way == Way::along ? u + end : u, way == Way::across ? v + end : v, 0.0);
        constexpr int most_steps = 20;
        for (int step = 0; step < most_steps; ++step) {
            const Vec3 miss = tip - unknown.z() * normal - surface(unknown.x(), unknown.y());
            if (!(miss.norm() > tolerance::measured_rest)) break;
            const Tangents there = tangents(surface, unknown.x(), unknown.y());
            Eigen::Matrix3d by;
            by << there.u, there.v, normal;
            unknown += by.colPivHouseholderQr().solve(miss);
        }
        sum += unknown.z();
    }
    return 0.5 * sum;
}

double curvature_of_gap(double gap, double half) {
    return 2.0 * gap / (half * half + gap * gap);
}

double gap_of_curvature(double curvature, double half) {
    const double turn = curvature * half;
    return half * turn / (1.0 + std::sqrt(std::max(0.0, 1.0 - turn * turn)));
}

std::vector<BattenReading> readings(const job::BattenGaps& gaps) {
    using Way = BattenPatch::Way;
    const double half = 0.5 * gaps.batten;
    std::vector<BattenReading> all{{"gap_along", gaps.gap_along, 0.0, 0.0, Way::along},
                                   {"gap_across", gaps.gap_across, 0.0, 0.0, Way::across}};
    for (std::size_t i = 0; i < 2; ++i) {
        const double end = i == 0 ? -half : half;
        const std::string place = "_ends[" + std::to_string(i + 1) + "]";
        if (gaps.gap_along_ends)
            all.push_back({"gap_along" + place, (*gaps.gap_along_ends)[i], 0.0, end, Way::along});
        if (gaps.gap_across_ends)
            all.push_back(
                {"gap_across" + place, (*gaps.gap_across_ends)[i], end, 0.0, Way::across});
    }
    return all;
}

BattenPatch batten_patch(const job::BattenGaps& gaps) {
    const auto measured = readings(gaps);
    BattenPatch patch;
    patch.half = 0.5 * gaps.batten;
    patch.along = curvature_of_gap(gaps.gap_along, patch.half);
    patch.across = curvature_of_gap(gaps.gap_across, patch.half);

    std::vector<std::pair<double*, double>> free{{&patch.along, 1.0 / patch.half},
                                                 {&patch.across, 1.0 / patch.half}};
    if (gaps.gap_along_ends) free.emplace_back(&patch.along_changes, patch.half);
    if (gaps.gap_across_ends) free.emplace_back(&patch.across_changes, patch.half);
    if (gaps.gap_along_ends || gaps.gap_across_ends)
        free.emplace_back(&patch.both_change, patch.half);

    const auto n = static_cast<Eigen::Index>(measured.size());
    const auto m = static_cast<Eigen::Index>(free.size());
    const auto misses = [&] {
        Eigen::VectorXd miss(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const auto& reading = measured[static_cast<std::size_t>(i)];
            miss[i] = reading.gap - patch.gap(reading.u, reading.v, reading.way);
        }
        return miss;
    };
    constexpr int most_steps = 12;
    for (int step = 0; step < most_steps; ++step) {
        const Eigen::VectorXd miss = misses();
        Eigen::MatrixXd rate(n, m);
        for (Eigen::Index k = 0; k < m; ++k) {
            auto& [value, unit] = free[static_cast<std::size_t>(k)];
            const double before = *value, nudge = unit * tolerance::measured_step / patch.half;
            *value = before + nudge;
            rate.col(k) = (miss - misses()) / (nudge / unit);
            *value = before;
        }
        const Eigen::VectorXd change = rate.completeOrthogonalDecomposition().solve(miss);
        for (Eigen::Index k = 0; k < m; ++k)
            *free[static_cast<std::size_t>(k)].first +=
                change[k] * free[static_cast<std::size_t>(k)].second;
        if (!(change.cwiseAbs().maxCoeff() * patch.half > tolerance::measured_rest)) break;
    }
    return patch;
}

}  // namespace tearline::hull

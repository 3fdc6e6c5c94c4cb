#include "core/scan/trimmed_parabola.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>
#include <random>

#include "core/scan/robust.h"

namespace tearline::scan {

namespace {

using Six = Eigen::Matrix<double, 6, 1>;

constexpr double kept = 0.75;  // [-] of the points
constexpr int draws = 40;      // a quarter wrong: one in six draws is of right ones alone
constexpr int concentrations = 2;

/// A point over a plane, in the reach of all.
struct Over {
    Six terms;
    double height = 0.0;
};

std::vector<Over> over_plane(std::span<const WeighedPoint> points, const Vec3& outward) {
    const Vec3 w = outward.normalized(), u = w.unitOrthogonal(), v = w.cross(u);
    Vec3 middle(0, 0, 0);
    for (const WeighedPoint& point : points)
        middle += point.at / static_cast<double>(points.size());
    double reach = 0.0;
    for (const WeighedPoint& point : points) reach = std::max(reach, (point.at - middle).norm());
    std::vector<Over> all;
    all.reserve(points.size());
    for (const WeighedPoint& point : points) {
        const Vec3 way = (point.at - middle) / std::max(reach, 1.0);
        const double x = way.dot(u), y = way.dot(v);
        Over over;
        over.terms << 1.0, x, y, x * x, x * y, y * y;
        over.height = way.dot(w);
        all.push_back(over);
    }
    return all;
}

/// A parabola, how far every point lies off it, and how far three quarters lie at most.
struct Candidate {
    std::vector<double> off;
    double most = 0.0;
};

template <class Counts>
Candidate through(const std::vector<Over>& points, const Counts& counts) {
    Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
    Six right = Six::Zero();
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (!counts(i)) continue;
        normal.selfadjointView<Eigen::Lower>().rankUpdate(points[i].terms);
        right += points[i].height * points[i].terms;
    }
    const Six parabola = normal.selfadjointView<Eigen::Lower>().ldlt().solve(right);
    Candidate out;
    out.off.reserve(points.size());
    for (const Over& point : points)
        out.off.push_back(std::abs(point.height - point.terms.dot(parabola)));
    std::vector<double> sorted = out.off;
    const auto last =
        sorted.begin() + static_cast<std::ptrdiff_t>(kept * static_cast<double>(sorted.size() - 1));
    std::nth_element(sorted.begin(), last, sorted.end());
    out.most = *last;
    return out;
}

Candidate concentrated(const std::vector<Over>& points, Candidate from) {
    for (int i = 0; i < concentrations; ++i)
        from = through(points, [&](std::size_t k) { return from.off[k] <= from.most; });
    return from;
}

}  // namespace

std::vector<double> counts_of_most(std::span<const WeighedPoint> points, const Vec3& outward) {
    const std::vector<Over> all = over_plane(points, outward);
    std::optional<Candidate> best;
    std::mt19937 random(1);  // the same draws whenever the same points come
    for (int draw = 0; draw < draws; ++draw) {
        std::vector<bool> drawn(all.size(), false);
        for (int k = 0; k < 6; ++k) drawn[random() % all.size()] = true;
        Candidate one =
            concentrated(all, through(all, [&](std::size_t i) -> bool { return drawn[i]; }));
        if (!best || one.most < best->most) best = std::move(one);
    }
    std::vector<double> sizes = best->off;
    const double spread = 1.4826 * median(sizes);
    std::vector<double> counts;
    counts.reserve(points.size());
    for (const double off : best->off)
        counts.push_back(spread > 0.0 ? tukey_weight(off / spread) : off <= best->most);
    return counts;
}

}  // namespace tearline::scan

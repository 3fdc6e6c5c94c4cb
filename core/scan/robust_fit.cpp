#include "core/scan/robust_fit.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <unordered_map>
#include <utility>

#include "core/scan/robust.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// Points of one small square as one, so that the fit's cost follows the knots and not the scan.
std::vector<FieldPoint> gathered(const std::vector<FieldPoint>& points, double square) {
    std::unordered_map<std::int64_t, FieldPoint> of_square;
    for (const FieldPoint& point : points) {
        if (!(point.weight > 0.0)) continue;
        const auto key = static_cast<std::int64_t>(std::floor(point.uv.x() / square)) * 1'000'003 +
                         static_cast<std::int64_t>(std::floor(point.uv.y() / square));
        FieldPoint& sum = of_square.try_emplace(key, FieldPoint{{0, 0}, 0.0, 0.0}).first->second;
        sum.uv += point.weight * point.uv;
        sum.height += point.weight * point.height;
        sum.weight += point.weight;
    }
    std::vector<std::pair<std::int64_t, FieldPoint>> ordered(of_square.begin(), of_square.end());
    std::sort(ordered.begin(), ordered.end(),
              [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<FieldPoint> all;
    all.reserve(ordered.size());
    for (auto& [key, sum] : ordered)
        all.push_back({sum.uv / sum.weight, sum.height / sum.weight, sum.weight});
    return all;
}

std::vector<Residual> residuals_of(const std::vector<FieldPoint>& points, const FairField& field) {
    std::vector<Residual> all;
    all.reserve(points.size());
    for (const FieldPoint& point : points)
        all.push_back({point.uv, point.height - field.at(point.uv)});
    return all;
}

double spread_of(std::span<const Residual> residuals) {
    std::vector<double> sizes;
    sizes.reserve(residuals.size());
    for (const Residual& residual : residuals) sizes.push_back(std::abs(residual.off));
    return 1.4826 * median(sizes);
}

/// How far a field moved from one round to the next, at the point where most [mm].
double most_moved(const std::vector<Residual>& before, const std::vector<Residual>& after) {
    double most = 0.0;
    for (std::size_t i = 0; i < before.size(); ++i)
        most = std::max(most, std::abs(after[i].off - before[i].off));
    return most;
}

/// Points as they are believed by how far off they lie.
std::vector<FieldPoint> weighed(const std::vector<FieldPoint>& points, RobustFit& by, double floor,
                                Doubt doubt) {
    const double spread = std::max(floor, by.spread);
    std::vector<FieldPoint> all = points;
    by.used = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double off = by.residuals[i].off / spread;
        const double belief = doubt == Doubt::soft ? cauchy_weight(off) : tukey_weight(off);
        all[i].weight *= belief;
        by.used += belief > 0.0;
    }
    return all;
}

}  // namespace

RobustFit RobustFit::of_base(std::span<const FieldPoint> points) {
    RobustFit fit;
    fit.residuals.reserve(points.size());
    for (const FieldPoint& point : points) fit.residuals.push_back({point.uv, point.height});
    fit.spread = spread_of(fit.residuals);
    return fit;
}

RobustFit fitted(FairFit& fit, const std::vector<FieldPoint>& points, double floor, Doubt doubt,
                 RobustFit from, int rounds) {
    /// Rounds by which a spread is taken as settled.
    constexpr int to_settle = 4;
    /// [-] of the spread: a field that moves less anywhere is at rest.
    constexpr double at_rest = 0.5;
    const double square = fit.grid().cell / 3.0;
    for (int round = 0; round < rounds; ++round) {
        const std::vector<FieldPoint> few = gathered(weighed(points, from, floor, doubt), square);
        constexpr std::size_t fewest = 20;
        from.field = {};  // its factor serves the next
        auto field = few.size() >= fewest ? fit.through(few) : std::nullopt;
        from.carried = field.has_value();
        if (!from.carried) break;
        from.field = std::move(*field);
        std::vector<Residual> residuals = residuals_of(points, from.field);
        const double moved = most_moved(from.residuals, residuals);
        from.residuals = std::move(residuals);
        const double before = std::exchange(from.spread, spread_of(from.residuals));
        const bool settled =
            round + 1 >= to_settle ||
            std::abs(from.spread - before) < tolerance::settled_residuals * from.spread;
        // Half of the points say nothing of a few that stand before the hull: where those are left
        // behind the field goes on moving long after.
        if (settled && moved < at_rest * std::max(floor, from.spread)) break;
    }
    return from;
}

/// The points as the last round of a fit believed them.
std::vector<FieldPoint> believed_points(std::vector<FieldPoint> points, const RobustFit& fit,
                                        double floor) {
    const double spread = std::max(floor, fit.spread);
    for (std::size_t i = 0; i < points.size(); ++i)
        points[i].weight *= tukey_weight(fit.residuals[i].off / spread);
    return gathered(points, fit.field.grid().cell / 3.0);
}

/// Residuals of the points that count.
std::vector<Residual> believed(const RobustFit& fit, double floor) {
    const double most = tukey_reach * std::max(floor, fit.spread);
    std::vector<Residual> all;
    for (const Residual& residual : fit.residuals)
        if (std::abs(residual.off) < most) all.push_back(residual);
    return all;
}

}  // namespace tearline::scan

#include "core/dish/ground_edge.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>

#include "core/base/numbers.h"
#include "core/scan/robust.h"

namespace tearline::dish {

namespace {

constexpr int sectors = 48;
/// [-] of a sector's breadth that it looks at: neighbours share points.
constexpr double breadth = 1.5;
constexpr int waves = 5;                   // round the edge: more would follow the noise
constexpr double step = 3.0;               // [mm] of a sector's profile
constexpr double high = 0.75, low = 0.25;  // [-] of the depth, between which a scarf is straight
/// [mm] and spreads of the noise: a floor is deeper than either.
constexpr double least_depth = 1.0, least_spreads = 5.0;
constexpr double most_scatter = 8.0;  // [mm] past this an edge is not told
constexpr double most_lost = 0.15;    // [-] of sectors without an edge

Error no_edge(const std::string& why) {
    return {.kind = ErrorKind::bad_input,
            .key = "damage.outline",
            .what = "missing, and the edge of the ground area is not found in the scan: " + why +
                    "; give it by outline = [[x, y, z], ...] or by centre with radius"};
}

/// A point of a sector: how far from the centre, and how deep.
using Polar = Vec2;

std::vector<Polar> points_of(std::span<const scan::FieldPoint> depths, const Vec2& centre,
                             double reach, int sector) {
    const double middle = 2.0 * std::numbers::pi * sector / sectors;
    const double half = breadth * std::numbers::pi / sectors;
    std::vector<Polar> points;
    for (const scan::FieldPoint& point : depths) {
        const Vec2 from = point.uv - centre;
        const double away = from.norm();
        if (!(away > 0.0) || away > reach) continue;
        const double turn =
            std::remainder(std::atan2(from.y(), from.x()) - middle, 2.0 * std::numbers::pi);
        if (std::abs(turn) <= half) points.emplace_back(away, point.height);
    }
    return points;
}

/// Depth by how far from the centre: the middle of what lies within a step; none where too few do.
std::vector<std::optional<double>> profile_of(const std::vector<Polar>& points, double reach) {
    std::vector<std::vector<double>> of_step(static_cast<std::size_t>(reach / step) + 1);
    for (const Polar& point : points)
        of_step[static_cast<std::size_t>(point.x() / step)].push_back(point.y());
    std::vector<std::optional<double>> profile;
    for (std::size_t i = 0; i < of_step.size(); ++i) {
        std::vector<double> about;
        for (std::size_t k = i > 0 ? i - 1 : 0; k <= std::min(i + 1, of_step.size() - 1); ++k)
            about.insert(about.end(), of_step[k].begin(), of_step[k].end());
        constexpr std::size_t fewest = 3;
        profile.push_back(about.size() < fewest ? std::nullopt
                                                : std::optional(scan::median(about)));
    }
    return profile;
}

double median_of(std::vector<double> values) {
    return scan::median(values);
}

/// Where the ramp of a sector comes out.
std::optional<double> edge_of(const std::vector<Polar>& points, double depth, double reach) {
    const auto profile = profile_of(points, reach);
    // Outward from the last place that is still deep to the first that is nearly out.
    std::optional<std::size_t> from, to;
    for (std::size_t i = 0; i < profile.size(); ++i) {
        if (!profile[i]) continue;
        if (*profile[i] > high * depth) {
            from = i;
            to.reset();
        } else if (from && !to && *profile[i] < low * depth) {
            to = i;
        }
    }
    if (!from || !to) return std::nullopt;
    const double begin = step * static_cast<double>(*from),
                 end = step * (static_cast<double>(*to) + 1.0);
    double count = 0.0;
    Vec2 mean(0, 0);
    for (const Polar& p : points)
        if (p.x() >= begin && p.x() <= end) {
            mean += p;
            count += 1.0;
        }
    constexpr double fewest = 6.0;
    if (count < fewest) return std::nullopt;
    mean /= count;
    double squares = 0.0, products = 0.0;
    for (const Polar& p : points)
        if (p.x() >= begin && p.x() <= end) {
            squares += (p.x() - mean.x()) * (p.x() - mean.x());
            products += (p.x() - mean.x()) * (p.y() - mean.y());
        }
    const double slope = products / squares;
    if (!(slope < 0.0)) return std::nullopt;
    const double edge = mean.x() - mean.y() / slope;
    return edge > 0.0 && edge < reach ? std::optional(edge) : std::nullopt;
}

/// 1, cos a, sin a, cos 2a, ...
Eigen::VectorXd series(double turn) {
    Eigen::VectorXd row(2 * waves + 1);
    row[0] = 1.0;
    for (int k = 1; k <= waves; ++k) {
        row[2 * k - 1] = std::cos(k * turn);
        row[2 * k] = std::sin(k * turn);
    }
    return row;
}

/// A smooth line round through the edges of sectors, one in ten of them wrong.
GroundEdge smooth(const std::vector<std::optional<double>>& edges) {
    GroundEdge out;
    std::vector<double> weights(edges.size(), 1.0);
    Eigen::VectorXd terms;
    constexpr int rounds = 6;
    for (int round = 0; round < rounds; ++round) {
        Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(2 * waves + 1, 2 * waves + 1);
        Eigen::VectorXd right = Eigen::VectorXd::Zero(2 * waves + 1);
        for (std::size_t i = 0; i < edges.size(); ++i) {
            if (!edges[i]) continue;
            const auto row = series(2.0 * std::numbers::pi * static_cast<double>(i) / sectors);
            normal += weights[i] * row * row.transpose();
            right += weights[i] * *edges[i] * row;
        }
        terms = normal.ldlt().solve(right);
        std::vector<double> off;
        for (std::size_t i = 0; i < edges.size(); ++i)
            if (edges[i])
                off.push_back(std::abs(
                    *edges[i] -
                    series(2.0 * std::numbers::pi * static_cast<double>(i) / sectors).dot(terms)));
        // As many terms as the line has are taken off what scatters.
        const double free = std::sqrt(1.0 - (2.0 * waves + 1.0) / static_cast<double>(sectors));
        out.spread = 1.4826 * median_of(off) / free;
        const double floor = std::max(out.spread, 0.1);
        for (std::size_t i = 0; i < edges.size(); ++i)
            if (edges[i])
                weights[i] = scan::tukey_weight(
                    (*edges[i] -
                     series(2.0 * std::numbers::pi * static_cast<double>(i) / sectors).dot(terms)) /
                    floor);
    }
    for (int i = 0; i < sectors; ++i)
        out.radius.push_back(series(2.0 * std::numbers::pi * i / sectors).dot(terms));
    const auto [least, most] = std::minmax_element(out.radius.begin(), out.radius.end());
    out.least = *least;
    out.most = *most;
    return out;
}

}  // namespace

Loop2 GroundEdge::round(const Vec2& centre) const {
    Loop2 loop;
    for (std::size_t i = 0; i < radius.size(); ++i) {
        const double turn =
            2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(radius.size());
        loop.push_back(centre + radius[i] * Vec2(std::cos(turn), std::sin(turn)));
    }
    return loop;
}

Result<GroundEdge> ground_edge(std::span<const scan::FieldPoint> depths, const Vec2& centre,
                               double noise, double reach) {
    std::vector<double> about;
    constexpr double floor_about = 15.0;  // [mm]
    for (const scan::FieldPoint& point : depths)
        if ((point.uv - centre).norm() < floor_about) about.push_back(point.height);
    const double deep = median_of(about);
    if (!(deep > std::max(least_depth, least_spreads * noise)))
        return tl::unexpected(
            no_edge("about damage.centre it is " + fixed(deep, 1) + " mm deep, no floor"));
    std::vector<std::optional<double>> edges;
    int lost = 0;
    for (int sector = 0; sector < sectors; ++sector) {
        edges.push_back(edge_of(points_of(depths, centre, reach, sector), deep, reach));
        lost += !edges.back();
    }
    if (lost > most_lost * sectors)
        return tl::unexpected(no_edge("on " + std::to_string(lost * 360 / sectors) +
                                      " degrees of the way round no scarf comes out within " +
                                      fixed(reach, 0) + " mm"));
    GroundEdge edge = smooth(edges);
    if (!(edge.spread <= most_scatter) || !(edge.least > 0.0))
        return tl::unexpected(
            no_edge("it scatters by " + fixed(edge.spread, 1) + " mm from place to place"));
    return edge;
}

}  // namespace tearline::dish

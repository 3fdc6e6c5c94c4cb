#include "core/scan/chine_lines.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "core/scan/bridge.h"
#include "core/scan/crease_line.h"
#include "core/scan/spots.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// [-] turn of the normals over the width of the places they are taken from, for a place to lie on
/// a line at all: a fifteenth of a turn is 24 degrees, a chine of 15 turns half as much over it.
constexpr double least_turn = 0.15;
constexpr std::size_t most_lines = 6;

/// Spots where the normals turn fastest on their way across.
std::vector<std::size_t> ridges(const Spots& spots, double width) {
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < spots.all.size(); ++i) {
        const Spot& spot = spots.all[i];
        if (!(2.0 * width * spot.bend > least_turn)) continue;
        bool highest = true;
        spots.near(spot.at, width, [&](std::size_t k) {
            const Spot& other = spots.all[k];
            const Vec3 way = other.at - spot.at;
            const bool beside = std::abs(way.dot(spot.across)) > 0.5 * way.norm();
            highest = highest && !(beside && other.bend > spot.bend);
        });
        if (highest) found.push_back(i);
    }
    std::sort(found.begin(), found.end(),
              [&](std::size_t a, std::size_t b) { return spots.all[a].bend > spots.all[b].bend; });
    return found;
}

/// A parabola in space over the way along a direction.
struct Parabola {
    Vec3 from{0, 0, 0}, along{1, 0, 0};
    Eigen::Matrix3d terms = Eigen::Matrix3d::Zero();  ///< columns: of 1, a and a^2, across it

    [[nodiscard]] Vec3 at(double a) const { return from + a * along + terms * Vec3(1.0, a, a * a); }
    [[nodiscard]] double off(const Vec3& p) const { return (p - at((p - from).dot(along))).norm(); }
    /// Through some places, bent only where they reach far enough to tell it.
    void lead_through(const std::vector<Vec3>& places, double bent_from) {
        double low = 0.0, high = 0.0;
        for (const Vec3& p : places) {
            low = std::min(low, (p - from).dot(along));
            high = std::max(high, (p - from).dot(along));
        }
        const int count = high - low > bent_from ? 3 : 2;
        Eigen::MatrixXd rows(places.size(), count), rights(places.size(), 3);
        for (std::size_t i = 0; i < places.size(); ++i) {
            const double a = (places[i] - from).dot(along);
            const auto row = static_cast<Eigen::Index>(i);
            for (int k = 0; k < count; ++k) rows(row, k) = std::pow(a, k);
            rights.row(row) = (places[i] - from - a * along).transpose();
        }
        terms.setZero();
        terms.leftCols(count) =
            Eigen::MatrixXd(rows.colPivHouseholderQr().solve(rights)).transpose();
    }
};

/// The spots of a line that begins at one of them.
struct Grown {
    Parabola line;
    std::vector<std::size_t> held;
    double low = 0.0, high = 0.0;  ///< [mm] along
};

/// Whether a stretch of a line shows a skin that runs smoothly across it for half of its way.
bool smooth_between(const Grown& grown, double low, double high, const Spots& spots, double width) {
    if (!(high - low > width)) return false;
    std::vector<bool> smooth(static_cast<std::size_t>((high - low) / width) + 1);
    for (const Spot& spot : spots.all) {
        if (spot.normal.isZero() || 2.0 * width * spot.bend > least_turn) continue;
        const double a = (spot.at - grown.line.from).dot(grown.line.along);
        if (a < low || a > high || grown.line.off(spot.at) > 0.5 * width) continue;
        smooth[static_cast<std::size_t>((a - low) / width)] = true;
    }
    const auto seen = std::count(smooth.begin(), smooth.end(), true);
    return 2 * seen > static_cast<std::ptrdiff_t>(smooth.size());
}

/// Leaves of a line what goes on from its seed, as far as no smooth skin lies between.
void keep_unbroken(Grown& grown, const Spots& spots, double width) {
    constexpr double smooth_gap = 4.0;  // widths
    std::vector<double> along;
    for (const std::size_t i : grown.held)
        along.push_back((spots.all[i].at - grown.line.from).dot(grown.line.along));
    std::sort(along.begin(), along.end());
    for (std::size_t i = 0; i + 1 < along.size(); ++i) {
        const double a = along[i], b = along[i + 1];
        if (b - a < smooth_gap * width || !smooth_between(grown, a, b, spots, width)) continue;
        if (b <= 0.0) grown.low = b;
        if (a >= 0.0) grown.high = std::min(grown.high, a);
    }
    std::erase_if(grown.held, [&](std::size_t i) {
        const double a = (spots.all[i].at - grown.line.from).dot(grown.line.along);
        return a < grown.low || a > grown.high;
    });
}

Grown grown_from(std::size_t seed, const Spots& spots, const std::vector<std::size_t>& found,
                 double width) {
    constexpr double one_way = 0.8, wider = 0.1;
    Grown grown;
    grown.line.from = spots.all[seed].at;
    grown.line.along = spots.all[seed].along().normalized();
    constexpr int rounds = 4;
    for (int round = 0; round < rounds; ++round) {
        grown.held.clear();
        std::vector<Vec3> places;
        for (const std::size_t i : found) {
            const Spot& spot = spots.all[i];
            if (spot.taken || std::abs(spot.along().dot(grown.line.along)) < one_way) continue;
            const double a = (spot.at - grown.line.from).dot(grown.line.along);
            const double most = width + (round < 2 ? wider * std::abs(a) : 0.0);
            if (grown.line.off(spot.at) > most) continue;
            grown.held.push_back(i);
            places.push_back(spot.at);
        }
        if (places.size() < 3) break;
        grown.line.lead_through(places, 8.0 * width);
    }
    for (const std::size_t i : grown.held) {
        const double a = (spots.all[i].at - grown.line.from).dot(grown.line.along);
        grown.low = std::min(grown.low, a);
        grown.high = std::max(grown.high, a);
    }
    keep_unbroken(grown, spots, width);
    return grown;
}

/// How much of a line, in steps of a width, spots stand on [mm].
double stood_on(const Grown& grown, const Spots& spots, double width) {
    std::vector<bool> step(static_cast<std::size_t>((grown.high - grown.low) / width) + 1);
    for (const std::size_t i : grown.held) {
        const double a = (spots.all[i].at - grown.line.from).dot(grown.line.along);
        step[static_cast<std::size_t>((a - grown.low) / width)] = true;
    }
    return width * static_cast<double>(std::count(step.begin(), step.end(), true));
}

/// Both of two lines as one, where they go on one in the other past skin that is missing, hidden or
/// not believed.
std::optional<Grown> joined(const Grown& a, const Grown& b, const Spots& spots, double width) {
    constexpr double one_way = 0.8, most_of = 0.9;
    const auto middle = [](const Grown& g) { return g.line.at(0.5 * (g.low + g.high)); };
    Grown both;
    both.line.from = 0.5 * (middle(a) + middle(b));
    both.line.along = (middle(b) - middle(a)).normalized();
    std::vector<Vec3> places;
    std::array<double, 2> low{}, high{};
    for (const Grown* part : {&a, &b}) {
        if (std::abs(part->line.along.dot(both.line.along)) < one_way) return std::nullopt;
        const std::size_t k = part == &a ? 0 : 1;
        low[k] = std::numeric_limits<double>::infinity();
        high[k] = -low[k];
        for (const std::size_t i : part->held) {
            const Vec3& at = spots.all[i].at;
            const double along = (at - both.line.from).dot(both.line.along);
            low[k] = std::min(low[k], along);
            high[k] = std::max(high[k], along);
            both.held.push_back(i);
            places.push_back(at);
        }
    }
    if (high[0] > low[1] + width) return std::nullopt;  // side by side
    both.low = low[0];
    both.high = high[1];
    both.line.lead_through(places, 8.0 * width);
    const auto on_it = std::count_if(places.begin(), places.end(),
                                     [&](const Vec3& at) { return both.line.off(at) < width; });
    if (static_cast<double>(on_it) < most_of * static_cast<double>(places.size()))
        return std::nullopt;
    if (smooth_between(both, high[0], low[1], spots, width)) return std::nullopt;
    return both;
}

void join_parts(std::vector<Grown>& lines, const Spots& spots, double width) {
    for (std::size_t i = 0; i < lines.size(); ++i)
        for (std::size_t k = i + 1; k < lines.size(); ++k)
            if (auto both = joined(lines[i], lines[k], spots, width)) {
                lines[i] = std::move(*both);
                lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(k));
                k = i;  // which may go on in one that was passed over
            }
}

/// The skin to either side of a line.
struct Flanks {
    std::array<Vec3, 2> normal;
    double turn = 0.0;    ///< [rad] on the line itself: what steady bending makes is taken off
    double spread = 0.0;  ///< [rad] of that turn
};

/// A spot beside a line.
struct Beside {
    Vec3 way{0, 0, 0};  ///< [mm] from the line
    Vec3 normal{0, 0, 0};
};

std::vector<Beside> spots_beside(const Grown& grown, const Spots& spots, double least,
                                 double most) {
    std::vector<Beside> all;
    for (const Spot& spot : spots.all) {
        if (spot.normal.isZero()) continue;
        const double a = (spot.at - grown.line.from).dot(grown.line.along);
        if (a < grown.low || a > grown.high) continue;
        const Vec3 way = spot.at - grown.line.at(a);
        if (way.norm() >= least && way.norm() <= most) all.push_back({way, spot.normal});
    }
    return all;
}

/// @param density  [mm4] of the noise
std::optional<Flanks> flanks(const Grown& grown, const Spots& spots, double width, double density) {
    // Near the line and farther off, on either side.
    constexpr double from = 1.5, parting = 2.5, to = 3.5;  // widths
    const auto beside = spots_beside(grown, spots, from * width, to * width);
    if (beside.empty()) return std::nullopt;
    // Across runs from one side to the other, however sharply they meet: the way about their
    // middle that they reach farthest.
    Vec3 mean(0, 0, 0);
    for (const Beside& one : beside) mean += one.way / static_cast<double>(beside.size());
    Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
    for (const Beside& one : beside) scatter += (one.way - mean) * (one.way - mean).transpose();
    const Vec3 across =
        Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(scatter).eigenvectors().col(2);
    std::array<std::array<Vec3, 2>, 2> sum;
    for (auto& side : sum) side.fill(Vec3(0, 0, 0));
    std::array<double, 2> away{0.0, 0.0}, count{0.0, 0.0};
    for (const Beside& one : beside) {
        const double widths = one.way.norm() / width;
        const std::size_t far = widths < parting ? 0 : 1;
        away[far] += widths;
        count[far] += 1.0;
        sum[far][(one.way - mean).dot(across) > 0.0 ? 0 : 1] += one.normal;
    }
    std::array<double, 2> turn{};
    for (std::size_t far = 0; far < 2; ++far) {
        for (Vec3& normal : sum[far]) {
            if (!(normal.norm() > 0.0)) return std::nullopt;
            normal.normalize();
        }
        turn[far] = std::acos(std::clamp(sum[far][0].dot(sum[far][1]), -1.0, 1.0));
    }
    const double near = away[0] / count[0], apart = away[1] / count[1] - near;
    // What does not turn near the line does not turn on it.
    const double carried = near / apart;
    const double on_line = turn[0] - carried * (turn[1] - turn[0]);
    // The slope across a strip that is as long as the line and two widths wide scatters by
    // 12 density / (long x wide^3); each turn is of two such.
    const double of_slope = 12.0 * density / ((grown.high - grown.low) * std::pow(2.0 * width, 3));
    const double parts = std::pow(1.0 + carried, 2) + std::pow(carried, 2);
    return Flanks{sum[0], std::clamp(on_line, 0.0, turn[0]), std::sqrt(2.0 * of_slope * parts)};
}

}  // namespace

double ChineLine::away(const Vec3& place) const {
    double least = (place - points.front()).norm();
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const Vec3 way = points[i + 1] - points[i];
        const double share = std::clamp((place - points[i]).dot(way) / way.squaredNorm(), 0.0, 1.0);
        least = std::min(least, (points[i] + share * way - place).norm());
    }
    return least;
}

std::vector<ChineLine> chine_lines(const std::vector<Vec3>& points, const FairRequest& request) {
    const PlaceView view = PlaceView::along(request.middle, request.outward);
    Loop2 outline;
    for (const Vec3& p : request.outline) outline.push_back(view.flat(p));
    const double guard = std::max(tolerance::scan_guard, 2.0 * request.spacing);
    const Bridge hole(std::move(outline), 0.5 * guard);
    std::vector<Vec3> sound;
    for (const Vec3& p : points) {
        if ((p - request.middle).norm() > 1.2 * request.reach) continue;
        if (!hole.holds(view.flat(p))) sound.push_back(p);
    }
    // Wide enough that noise turns no normal by more than a degree or so.
    const double width = std::max({4.5 * request.spacing, request.reach / 20.0,
                                   3.0 * request.least_noise.correlation, tolerance::scan_guard});
    Spots spots(sound, width, request.outward);
    const std::vector<std::size_t> found = ridges(spots, width);

    std::vector<Grown> parts;
    for (const std::size_t seed : found) {
        if (spots.all[seed].taken || parts.size() == most_lines) continue;
        Grown grown = grown_from(seed, spots, found, width);
        // Whatever lies beside it is of the same bend, or of none.
        for (const std::size_t i : found) {
            const double a = (spots.all[i].at - grown.line.from).dot(grown.line.along);
            if (a < grown.low - 2.0 * width || a > grown.high + 2.0 * width) continue;
            if (grown.line.off(spots.all[i].at) < 2.0 * width) spots.all[i].taken = true;
        }
        constexpr double least_long = 4.0;  // widths
        if (stood_on(grown, spots, width) < least_long * width) continue;
        parts.push_back(std::move(grown));
    }
    join_parts(parts, spots, width);
    std::vector<ChineLine> lines;
    for (const Grown& grown : parts) {
        const auto flank = flanks(grown, spots, width, request.least_noise.density());
        if (!flank) continue;
        ChineLine line;
        constexpr int steps = 8;
        for (int i = 0; i <= steps; ++i)
            line.points.push_back(grown.line.at(grown.low + (grown.high - grown.low) * i / steps));
        line.flank = flank->normal;
        line.turn = flank->turn;
        line.spread = flank->spread;
        lines.push_back(std::move(line));
    }
    return lines;
}

}  // namespace tearline::scan

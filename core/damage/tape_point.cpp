#include "core/damage/tape_point.h"

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>

#include "core/base/numbers.h"
#include "core/damage/foot.h"
#include "core/damage/straight_way.h"
#include "core/damage/tolerances.h"
#include "core/surface/locate_near.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::damage {
namespace {

constexpr double whole_way = 1e5;  ///< [mm] spacing beyond any tape: ends only

std::string mm(double length) {
    return fixed(length, 1) + " mm";
}

std::string named(const TapeLine& line) {
    return line.mark + " (" + mm(line.length) + ")";
}

/// What keeps two tapes from meeting.
Result<void> can_meet(const TapeLine& a, const TapeLine& b, double apart, const std::string& path) {
    const std::string marks = a.mark + " and " + b.mark + " are " + mm(apart) + " apart by tape: ";
    if (const double gap = apart - a.length - b.length; gap > tolerance::tapes_just_meet)
        return bad_input(path, marks + "the tapes from " + named(a) + " and " + named(b) + " are " +
                                   mm(gap) + " short of meeting; measure both again");
    const TapeLine& longer = a.length > b.length ? a : b;
    const TapeLine& shorter = a.length > b.length ? b : a;
    if (const double gap = longer.length - shorter.length - apart; gap > tolerance::tapes_just_meet)
        return bad_input(path, marks + "the tape from " + named(shorter) + " is " + mm(gap) +
                                   " short of reaching where the one from " + named(longer) +
                                   " ends; measure both again");
    return {};
}

/// A first guess in the chart, and on which side of the marks' line it must lie.
Result<Vec2> first_guess(const surface::Patch& patch, const std::vector<TapeLine>& lines,
                         const Vec3& side, double apart, const std::string& path) {
    const Vec2 a = patch.chart_point(lines[0].from), b = patch.chart_point(lines[1].from);
    const double p = lines[0].length, q = lines[1].length;
    const Vec2 along = (b - a).normalized(), left = turned_left(along);
    // As in the plane, the chart stretched to the tape's own distance between the marks.
    const double stretch = (b - a).norm() / apart;
    const double x = (p * p - q * q + apart * apart) / (2.0 * apart);
    const double y = std::sqrt(std::max(0.0, p * p - x * x));
    const Vec2 foot = a + stretch * x * along;
    if (lines.size() > 2) {
        // The third tape tells which of the two.
        const Vec2 third = patch.chart_point(lines[2].from);
        const auto miss = [&](double sign) {
            return std::abs((foot + sign * stretch * y * left - third).norm() / stretch -
                            lines[2].length);
        };
        return Vec2(foot + (miss(1.0) <= miss(-1.0) ? 1.0 : -1.0) * stretch * y * left);
    }
    const Vec3 to_left = surface::space_direction(patch, lines[0].from.triangle, left).normalized();
    const double towards = side.dot(to_left);
    if (!(std::abs(towards) > tolerance::taped_side))
        return bad_input(path + ".side",
                         "does not tell the two places apart: " + lines[0].mark + " and " +
                             lines[1].mark +
                             " lie in a line that runs that way; say it by another direction");
    return Vec2(foot + (towards > 0.0 ? 1.0 : -1.0) * stretch * y * left);
}

/// Tapes from the marks to a place: what each misses, and the way it arrives.
struct Arrivals {
    Eigen::VectorXd miss;     ///< [mm] asked less there
    Eigen::MatrixXd towards;  ///< rows: unit direction in the tangent plane's two axes
};

class Finder {
public:
    Finder(const surface::Patch& patch, const std::vector<TapeLine>& lines)
        : patch_(patch), lines_(lines) {}

    /// Moves a place until the tapes end there.
    bool settle(surface::Location& at) const {
        constexpr int most_steps = 30;
        for (int step = 0; step < most_steps; ++step) {
            const auto sample = patch_.sample(at);
            const Vec3 x = sample.normal.unitOrthogonal(), y = sample.normal.cross(x);
            const auto arrivals = arrive(at, x, y);
            if (!arrivals) return false;
            const Eigen::Vector2d move =
                arrivals->towards.colPivHouseholderQr().solve(arrivals->miss);
            const double length = move.norm();
            if (!(length > tolerance::straight_way_miss)) return true;
            // Half a step where two tapes run nearly alike, so that it does not run away.
            const double most = 0.5 * std::max(lines_[0].length, lines_[1].length);
            const std::array<double, 1> way{std::min(length, most)};
            const auto walk =
                surface::trace_geodesic(patch_, {at, move.x() * x + move.y() * y}, way);
            at = walk.left_patch ? walk.end : walk.at.front();
        }
        return false;
    }

    [[nodiscard]] std::optional<Arrivals> arrive(const surface::Location& at, const Vec3& x,
                                                 const Vec3& y) const {
        const auto n = static_cast<Eigen::Index>(lines_.size());
        Arrivals arrivals{Eigen::VectorXd(n), Eigen::MatrixXd(n, 2)};
        for (Eigen::Index i = 0; i < n; ++i) {
            const TapeLine& line = lines_[static_cast<std::size_t>(i)];
            const auto way = straight_way(patch_, line.from, at, whole_way);
            if (!way) return std::nullopt;
            arrivals.miss[i] = line.length - way->length;
            const Vec3& d = way->direction.back();
            arrivals.towards.row(i) << d.dot(x), d.dot(y);
        }
        return arrivals;
    }

private:
    const surface::Patch& patch_;
    const std::vector<TapeLine>& lines_;
};

/// Where the tapes of two marks end that just meet: in the line through both, which a search by
/// crossing tapes does not find. Nothing for tapes that cross.
std::optional<surface::TracedRay> in_line(const surface::Patch& patch,
                                          const std::vector<TapeLine>& lines,
                                          const StraightWay& between) {
    if (lines.size() > 2) return std::nullopt;
    const double a = lines[0].length, b = lines[1].length;
    const auto none = [&](double length) { return std::abs(length) <= tolerance::tapes_just_meet; };
    if (none(a + b - between.length) || none(a - b - between.length))
        return surface::trace_geodesic(patch, {lines[0].from, between.direction.front()},
                                       std::array<double, 1>{a});
    if (none(b - a - between.length))
        return surface::trace_geodesic(patch, {lines[1].from, -between.direction.back()},
                                       std::array<double, 1>{b});
    return std::nullopt;
}

/// Three tapes that do not end in one place, and two that meet too flat.
Result<Warnings> judge(const Arrivals& arrivals, const std::vector<TapeLine>& lines,
                       const std::string& path) {
    Eigen::Index worst = 0;
    const double off = arrivals.miss.cwiseAbs().maxCoeff(&worst);
    if (lines.size() > 2 && off > tolerance::tape_disagrees)
        return bad_input(path, "the tapes do not meet in one place: the one from " +
                                   named(lines[static_cast<std::size_t>(worst)]) + " is " +
                                   mm(off) +
                                   " off where they come nearest; measure all of them again");
    Warnings warnings;
    double sharpest = 0.0;
    for (Eigen::Index i = 0; i < arrivals.towards.rows(); ++i)
        for (Eigen::Index j = 0; j < i; ++j)
            sharpest = std::max(sharpest, std::abs(cross2(arrivals.towards.row(i).transpose(),
                                                          arrivals.towards.row(j).transpose())));
    if (sharpest < tolerance::tape_flat)
        warnings.push_back({warn::TapesMeetFlat{
            path, lines[0].mark, lines[1].mark,
            sharpest < tolerance::tape_blind ? std::nullopt : std::optional(1.0 / sharpest)}});
    return warnings;
}

}  // namespace

Result<TapedPlace> tape_point(const surface::Patch& patch, const std::vector<TapeLine>& lines,
                              const Vec3& side, const std::string& path) {
    const auto between = straight_way(patch, lines[0].from, lines[1].from, whole_way);
    if (!between)
        return bad_input(path, "no tape runs straight from " + lines[0].mark + " to " +
                                   lines[1].mark + " over the hull; choose other marks");
    if (auto met = can_meet(lines[0], lines[1], between->length, path); !met)
        return tl::unexpected(met.error());
    TapedPlace place;
    const Finder finder(patch, lines);
    const auto off_hull = [&] {
        return bad_input(path,
                         "the tapes run off the hull before they meet; measure from other "
                         "marks");
    };
    if (const auto line = in_line(patch, lines, *between)) {
        if (line->left_patch) return off_hull();
        place.at = line->at.front();
    } else {
        const auto guess = first_guess(patch, lines, side, between->length, path);
        if (!guess) return tl::unexpected(guess.error());
        place.at = surface::locate_near(patch, *guess).at;
        if (!finder.settle(place.at)) return off_hull();
    }
    const auto sample = patch.sample(place.at);
    place.position = sample.position;
    const Vec3 x = sample.normal.unitOrthogonal();
    const auto arrivals = finder.arrive(place.at, x, sample.normal.cross(x));
    if (!arrivals) return bad_input(path, "the tapes run off the hull before they meet");
    auto judged = judge(*arrivals, lines, path);
    if (!judged) return tl::unexpected(judged.error());
    place.warnings = std::move(*judged);
    return place;
}

Result<TapedPlace> below_plane(const surface::Patch& patch, const Vec2& xy,
                               const std::string& path) {
    Vec3 point(xy.x(), xy.y(), 0.0);
    Foot foot = foot_of(patch, point);
    constexpr int most_steps = 30;
    for (int step = 0; step < most_steps; ++step) {
        const Vec3& n = foot.sample.normal;
        const Vec3 off = point - foot.sample.position;
        if (std::hypot(off.x(), off.y()) <= tolerance::straight_way_miss) break;
        if (!(std::abs(n.z()) > tolerance::taped_side)) break;
        // Where the tangent plane at the foot has these x and y.
        point.z() = foot.sample.position.z() - (n.x() * off.x() + n.y() * off.y()) / n.z();
        foot = foot_of(patch, point);
    }
    const Vec3 off = point - foot.sample.position;
    if (!(std::hypot(off.x(), off.y()) <= tolerance::tape_disagrees) || foot.over_rim)
        return bad_input(path,
                         "[" + fixed(xy.x(), 1) + ", " + fixed(xy.y(), 1) +
                             "] lies outside the hull that was measured; measure farther out");
    return TapedPlace{foot.at, foot.sample.position, {}};
}

}  // namespace tearline::damage

#include "core/patch/told_end.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace tearline::patch {
namespace {

constexpr int samples_a_segment = 16;

}  // namespace

ToldEnd::ToldEnd(const std::vector<Vec3>& points) : line_(points) {
    const auto count = static_cast<int>(line_.segments()) * samples_a_segment;
    for (int k = 0; k <= count; ++k)
        samples_.push_back(point(static_cast<double>(k) / samples_a_segment));
}

Vec3 ToldEnd::point(double at) const {
    const auto last = static_cast<double>(line_.segments());
    const double held = std::clamp(at, 0.0, last);
    const auto segment = std::min(static_cast<std::size_t>(held), line_.segments() - 1);
    const Vec3 place = line_.at(segment, held - static_cast<double>(segment));
    return held == at ? place : Vec3(place + (at - held) * line_.step(segment) * along(held));
}

Vec3 ToldEnd::along(double at) const {
    const double held = std::clamp(at, 0.0, static_cast<double>(line_.segments()));
    const auto segment = std::min(static_cast<std::size_t>(held), line_.segments() - 1);
    return line_.slope(segment, held - static_cast<double>(segment)).normalized();
}

ToldEnd::Foot ToldEnd::nearest(const Vec3& p) const {
    const auto nearer = [&](const Vec3& a, const Vec3& b) {
        return (a - p).squaredNorm() < (b - p).squaredNorm();
    };
    const auto best = std::min_element(samples_.begin(), samples_.end(), nearer);
    const auto last = static_cast<double>(line_.segments());
    const double near = static_cast<double>(best - samples_.begin()) / samples_a_segment;
    const auto ahead = [&](double at) { return (p - point(at)).dot(along(at)); };
    double at = near;
    if (near == 0.0 && ahead(near) < 0.0) {
        at = ahead(near) / line_.step(0);
    } else if (near == last && ahead(near) > 0.0) {
        at = last + ahead(near) / line_.step(line_.segments() - 1);
    } else {
        // Between its neighbours, where the line stops coming nearer: safe on either side of it.
        double low = std::max(0.0, near - 1.0 / samples_a_segment);
        double high = std::min(last, near + 1.0 / samples_a_segment);
        constexpr int halvings = 40;
        for (int k = 0; k < halvings; ++k) {
            at = 0.5 * (low + high);
            (ahead(at) > 0.0 ? low : high) = at;
        }
    }
    return {at, point(at), along(at)};
}

double ToldEnd::beside(const Vec3& p, const Vec3& normal) const {
    const Foot foot = nearest(p);
    return (p - foot.place).dot(foot.along.cross(normal).normalized());
}

bool ToldEnd::holds(const Vec3& place, const Vec3& normal) const {
    // Straight on beyond its ends nobody told it: what lies there is off it by the way there.
    Foot foot = nearest(place);
    foot.place = point(std::clamp(foot.at, 0.0, static_cast<double>(line_.segments())));
    const Vec3 off = place - foot.place;
    const Vec3 aside = off - off.dot(normal) * normal;
    return aside.norm() <= ToldEnd::near;
}

}  // namespace tearline::patch

#include "core/scan/rolled_bend.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/base/angle_between.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// Poles of the cubic B-spline over uniform knots through values; straight on past its ends.
template <class Value>
std::vector<Value> poles_through(const std::vector<Value>& values) {
    // p[i - 1] + 4 p[i] + p[i + 1] = 6 v[i]; the end poles are the values there.
    const std::size_t n = values.size();
    std::vector<Value> poles(n);
    std::vector<double> above(n, 0.0);
    poles[0] = values[0];
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double pivot = 4.0 - above[i - 1];
        above[i] = 1.0 / pivot;
        poles[i] = (6.0 * values[i] - poles[i - 1]) / pivot;
    }
    poles[n - 1] = values[n - 1];
    for (std::size_t i = n - 2; i > 0; --i) poles[i] -= above[i] * poles[i + 1];
    // One more each side.
    poles.insert(poles.begin(), 2.0 * poles[0] - poles[1]);
    poles.push_back(2.0 * poles.back() - poles[poles.size() - 2]);
    return poles;
}

}  // namespace

RolledBend::RolledBend(double radius, double low, double step, const std::vector<BallPlace>& places)
    : radius_(radius),
      low_(low),
      high_(low + step * static_cast<double>(places.size() - 1)),
      step_(step) {
    std::vector<Nine> values;
    for (const BallPlace& place : places) {
        values.emplace_back();
        values.back() << place.centre, place.from, place.to;
        width_ += radius * angle_between(place.from, place.to) / static_cast<double>(places.size());
    }
    poles_ = poles_through(values);
}

Vec3 RolledBend::point(const Vec2& at) const {
    const double local = std::clamp((at.x() - low_) / step_, 0.0,
                                    static_cast<double>(poles_.size() - 3) - tolerance::last_step);
    const auto cell = static_cast<std::size_t>(local);
    const double x = local - static_cast<double>(cell), y = 1.0 - x;
    const Nine here =
        (y * y * y * poles_[cell] + (3.0 * x * x * x - 6.0 * x * x + 4.0) * poles_[cell + 1] +
         (3.0 * y * y * y - 6.0 * y * y + 4.0) * poles_[cell + 2] + x * x * x * poles_[cell + 3]) /
        6.0;
    const Vec3 from = here.segment<3>(3).normalized(), to = here.segment<3>(6).normalized();
    const Vec3 ahead = (to - to.dot(from) * from).normalized();
    const double turn = at.y() / width_ * angle_between(from, to);
    return here.head<3>() + radius_ * (std::cos(turn) * from + std::sin(turn) * ahead);
}

SurfaceJet RolledBend::jet(const Vec2& at) const {
    // By differences: the surface is a formula of a few lines, exact to the last bits.
    constexpr double h = tolerance::bend_step;
    const auto p = [&](int a, int b) { return point(at + h * Vec2(a, b)); };
    const Vec3 here = point(at), ahead = p(1, 0), back = p(-1, 0), on = p(0, 1), off = p(0, -1);
    SurfaceJet jet;
    jet.position = here;
    jet.du = (ahead - back) / (2.0 * h);
    jet.dv = (on - off) / (2.0 * h);
    jet.duu = (ahead - 2.0 * here + back) / (h * h);
    jet.dvv = (on - 2.0 * here + off) / (h * h);
    jet.duv = (p(1, 1) - p(1, -1) - p(-1, 1) + p(-1, -1)) / (4.0 * h * h);
    return jet;
}

}  // namespace tearline::scan

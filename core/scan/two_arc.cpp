#include "core/scan/two_arc.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/tolerances.h"

namespace tearline::scan {

namespace {

/// sin(k s) / k, for straight lines, too.
double sine_over(double k, double s) {
    const double a = k * s;
    return std::abs(a) < tolerance::straight_turn ? s * (1.0 - a * a / 6.0) : std::sin(a) / k;
}

/// (cos(k s) - 1) / k.
double fall_over(double k, double s) {
    const double half = sine_over(0.5 * k, s);  // 2 sin(ks/2) / k
    return -0.5 * k * half * half;
}

/// atan2(k x, y) / k: the arc length to a foot, for straight lines, too.
double arc_over(double k, double x, double y) {
    const double a = std::atan2(k * x, y);
    return std::abs(a) < tolerance::straight_turn ? x / y * (1.0 - a * a / 3.0) : a / k;
}

/// Distance from a circle of curvature k through the origin, its tangent along x.
double off_arc(double x, double y, double k) {
    const double q = k * (x * x + y * y) + 2.0 * y;
    return q / (1.0 + std::sqrt(std::max(0.0, 1.0 + k * q)));
}

}  // namespace

double tightest_curvature(const SurfaceJet& jet) {
    const Vec3 normal = jet.du.cross(jet.dv).normalized();
    const double e = jet.du.squaredNorm(), f = jet.du.dot(jet.dv), g = jet.dv.squaredNorm();
    const double l = normal.dot(jet.duu), m = normal.dot(jet.duv), n = normal.dot(jet.dvv);
    const double area2 = e * g - f * f;
    const double mean = (e * n - 2.0 * f * m + g * l) / (2.0 * area2);
    const double root = std::sqrt(std::max(0.0, mean * mean - (l * n - m * m) / area2));
    return std::max(std::abs(mean - root), std::abs(mean + root));
}

TwoArc TwoArc::measured_at(const Vec3& place, double reach) const {
    // Near the axis there is hardly a way round: what is drawn to `reach` must not come round it.
    const double round = std::abs(along_) * reach / (0.5 * std::numbers::pi);
    const double least = std::clamp(round, 0.05, 1.0);
    TwoArc measured = *this;
    measured.stretch_ = std::max(least, 1.0 + along_ * fall_over(across_, foot(place).uv.y()));
    return measured;
}

TwoArc::Foot TwoArc::foot(const Vec3& point) const {
    const Vec3 p = axes_.transpose() * (point - origin_);
    const double off = off_arc(p.x(), p.z(), along_);
    return {{stretch_ * arc_over(along_, p.x(), 1.0 + along_ * p.z()),
             arc_over(across_, p.y(), 1.0 + across_ * off)},
            off_arc(p.y(), off, across_)};
}

double TwoArc::distance(const Vec3& point) const {
    const Vec3 p = axes_.transpose() * (point - origin_);
    return off_arc(p.y(), off_arc(p.x(), p.z(), along_), across_);
}

Vec3 TwoArc::normal(const Vec2& uv) const {
    const double a = along_ * uv.x() / stretch_, b = across_ * uv.y();
    return axes_ * Vec3(std::cos(b) * std::sin(a), std::sin(b), std::cos(b) * std::cos(a));
}

Vec3 TwoArc::point(const Vec2& uv, double height) const {
    const double u = uv.x() / stretch_, a = along_ * u;
    const double off = fall_over(across_, uv.y());
    const Vec3 local(sine_over(along_, u) + off * std::sin(a), sine_over(across_, uv.y()),
                     fall_over(along_, u) + off * std::cos(a));
    return origin_ + axes_ * local + height * normal(uv);
}

SurfaceJet TwoArc::over(const Vec2& uv, const Height& height) const {
    const double u = uv.x() / stretch_, a = along_ * u, b = across_ * uv.y();
    const double sa = std::sin(a), ca = std::cos(a), sb = std::sin(b), cb = std::cos(b);
    const double k = along_, m = across_;
    const double h = height.value;
    const double h_u = stretch_ * height.du, h_v = height.dv;
    const double off = fall_over(m, uv.y());

    // The directions of the profile at u, and the normal over it at v.
    const Vec3 out(sa, 0.0, ca), forth(ca, 0.0, -sa), side(0.0, 1.0, 0.0);
    const Vec3 n = cb * out + sb * side;   // the normal
    const Vec3 t = -sb * out + cb * side;  // across, along the arc
    // Derivatives: out_u = k forth, forth_u = -k out, off_v = -sb, n_v = m t, t_v = -m n,
    // n_u = k cb forth.
    const double reach = 1.0 + k * (off + cb * h);  // by how much u is stretched at this height

    SurfaceJet jet;
    jet.position = Vec3(sine_over(k, u), sine_over(m, uv.y()), fall_over(k, u)) + off * out + h * n;
    jet.du = reach * forth + h_u * n;
    jet.dv = (1.0 + m * h) * t + h_v * n;
    const Vec3 n_u = k * cb * forth;
    jet.duu =
        k * cb * h_u * forth - reach * k * out + stretch_ * stretch_ * height.duu * n + h_u * n_u;
    jet.duv = k * (-sb + -m * sb * h + cb * h_v) * forth + stretch_ * height.duv * n + h_u * m * t;
    jet.dvv = m * h_v * t - (1.0 + m * h) * m * n + height.dvv * n + h_v * m * t;
    jet.du /= stretch_;
    jet.duv /= stretch_;
    jet.duu /= stretch_ * stretch_;

    jet.position = origin_ + axes_ * jet.position;
    for (Vec3* part : {&jet.du, &jet.dv, &jet.duu, &jet.duv, &jet.dvv}) *part = axes_ * *part;
    return jet;
}

}  // namespace tearline::scan

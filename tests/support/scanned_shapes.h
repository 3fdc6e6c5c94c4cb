#pragma once
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>
#include <vector>

#include "core/scan/two_arc.h"

/// Surfaces of known form as scanners see them.
namespace tearline::scanned {

/// Noise of a known spread and correlation exp(-r^2 / 2 L^2), as a sum of waves of random
/// direction.
/// @source  Rahimi and Recht, Random features for large-scale kernel machines (2007)
class Waves {
public:
    Waves(unsigned start, double spread, double correlation, int count = 600)
        : scale_(spread * std::sqrt(2.0 / count)) {
        std::mt19937 random(start);
        std::normal_distribution<double> number(0.0, 1.0 / correlation);
        std::uniform_real_distribution<double> phase(0.0, 2.0 * std::numbers::pi);
        for (int i = 0; i < count; ++i) {
            wave_.emplace_back(number(random), number(random));
            phase_.push_back(phase(random));
        }
    }
    [[nodiscard]] double at(const Vec2& uv) const {
        double sum = 0.0;
        for (std::size_t i = 0; i < wave_.size(); ++i)
            sum += std::cos(wave_[i].dot(uv) + phase_[i]);
        return scale_ * sum;
    }

private:
    double scale_;
    std::vector<Vec2> wave_;
    std::vector<double> phase_;
};

/// A place of a surface by two lengths along it from its middle, and how far out it is moved [mm].
using Shape = std::function<Vec3(const Vec2& uv, double out)>;

/// Axes turned any way, so that no test passes by lying along x, y, z.
inline Eigen::Matrix3d turned() {
    return Eigen::AngleAxisd(0.7, Vec3(1, 2, 3).normalized()).toRotationMatrix();
}

/// Plane, sphere, cylinder, torus, saddle: the middle `degrees` off the equator.
inline Shape arcs(double along, double across, double degrees = 0.0) {
    const scan::TwoArc surface(turned(), {1000, 200, -30}, along, across);
    const double v = across == 0.0 ? 0.0 : degrees * std::numbers::pi / 180.0 / std::abs(across);
    return [=](const Vec2& uv, double out) { return surface.point({uv.x(), v + uv.y()}, out); };
}

/// A cone that tapers by `degrees`, round by `radius` in the middle, which lies at the origin.
inline Shape cone(double radius, double degrees) {
    const double taper = degrees * std::numbers::pi / 180.0, s = radius / std::sin(taper);
    return [=](const Vec2& uv, double out) {
        // Laid flat it is part of a disc, its tip in the middle.
        const Vec2 from_tip(s + uv.x(), uv.y());
        const double along = from_tip.norm();
        const double turn = std::atan2(from_tip.y(), from_tip.x()) / std::sin(taper);
        const Vec3 up(0.0, std::sin(turn), std::cos(turn)), way(1.0, 0.0, 0.0);
        return Vec3(turned() * (along * (std::cos(taper) * way + std::sin(taper) * up) +
                                out * (std::cos(taper) * up - std::sin(taper) * way)));
    };
}

/// Straight one way; across it the curvature swells from `flat` to `tight` in the middle, and falls
/// again, over `half` each way, as a cosine does [1/mm, mm].
inline Shape bilge(double flat, double tight, double half) {
    constexpr double step = 0.05, reach = 900.0;
    const int count = static_cast<int>(reach / step);
    std::vector<Vec2> profile{{0, 0}};  // to one side; the other is its mirror image
    double turn = 0.0, s = 0.0;
    for (int i = 0; i < count; ++i, s += step) {
        const auto bend = [&](double at) {
            const double share = 0.5 + 0.5 * std::cos(std::numbers::pi * std::min(at, half) / half);
            return flat + (tight - flat) * share;
        };
        const double middle = turn + 0.5 * step * bend(s + 0.25 * step);
        profile.push_back(profile.back() + step * Vec2(std::cos(middle), -std::sin(middle)));
        turn += step * bend(s + 0.5 * step);
    }
    return [=](const Vec2& uv, double out) {
        const double at = std::abs(uv.y()) / step;
        const auto i = std::min(static_cast<std::size_t>(at), profile.size() - 2);
        const Vec2 way = (profile[i + 1] - profile[i]) / step;
        const Vec2 p =
            profile[i] + (at - static_cast<double>(i)) * step * way + out * Vec2(-way.y(), way.x());
        return Vec3(turned() * Vec3(uv.x(), std::copysign(p.x(), uv.y()), p.y()));
    };
}

/// How a scan is made.
struct Scanner {
    double spread = 0.0, correlation = 4.0;  ///< [mm]
    double spacing = 5.0, half = 320.0;      ///< [mm]
    unsigned start = 1;
    double clutter = 0.0;      ///< share of points 5 to 50 mm outside
    double dent = 0.0;         ///< [mm] deep, as wide as `dent_radius`
    double dent_radius = 120;  ///< [mm]
};

/// Points all over a square of a surface.
inline std::vector<Vec3> scan_of(const Shape& shape, const Scanner& by) {
    const Waves noise(by.start, by.spread, by.correlation, 200);
    std::mt19937 random(by.start + 77);
    std::uniform_real_distribution<double> one(0.0, 1.0);
    std::vector<Vec3> points;
    for (double u = -by.half; u <= by.half; u += by.spacing)
        for (double v = -by.half; v <= by.half; v += by.spacing) {
            const Vec2 uv(u + 0.3 * by.spacing * (one(random) - 0.5), v);
            double out = by.spread > 0.0 ? noise.at(uv) : 0.0;
            if (one(random) < by.clutter) out += 5.0 + 45.0 * one(random);
            if (uv.norm() < by.dent_radius) out -= by.dent;
            points.push_back(shape(uv, out));
        }
    return points;
}

/// A circle on a surface.
inline std::vector<Vec3> ring(const Shape& shape, double radius, int count = 48) {
    std::vector<Vec3> points;
    for (int i = 0; i < count; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / count;
        points.push_back(shape(radius * Vec2(std::cos(turn), std::sin(turn)), 0.0));
    }
    return points;
}

}  // namespace tearline::scanned

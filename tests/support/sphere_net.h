#pragma once
#include <cmath>
#include <map>
#include <utility>

#include "core/base/vec.h"

namespace tearline::test {

/// Exact net on the unit sphere from its pole: crossings of great-circle rhombi by spherical
/// trigonometry. The second route to where cloth lies; no mesh, no picture.
class SphereNet {
public:
    SphereNet(double step, int reach) : step_(step) {
        for (int i = 0; i <= reach; ++i) {
            node_[{i, 0}] = Vec3(std::sin(i * step), 0.0, std::cos(i * step));
            node_[{0, i}] = Vec3(0.0, std::sin(i * step), std::cos(i * step));
        }
        for (int i = 1; i <= reach; ++i)
            for (int j = 1; j <= reach; ++j) {
                const Vec3 &a = node_[{i - 1, j}], &b = node_[{i, j - 1}];
                // x = al (a + b) + be (a x b) with a.x = b.x = cos(step).
                const double ab = a.dot(b), al = std::cos(step) / (1.0 + ab);
                const Vec3 n = a.cross(b);
                const double be = std::sqrt((1.0 - al * al * (2.0 + 2.0 * ab)) / n.squaredNorm());
                node_[{i, j}] = al * (a + b) + be * n;
            }
    }
    /// The point of the sphere under cloth (u, v) [radii], in any quadrant by symmetry.
    [[nodiscard]] Vec3 at(double u, double v) const {
        const double x = std::abs(u) / step_, y = std::abs(v) / step_;
        const int i = static_cast<int>(x), j = static_cast<int>(y);
        const double s = x - i, t = y - j;
        Vec3 p = (1 - s) * (1 - t) * node_.at({i, j}) + s * (1 - t) * node_.at({i + 1, j}) +
                 s * t * node_.at({i + 1, j + 1}) + (1 - s) * t * node_.at({i, j + 1});
        p.normalize();
        if (u < 0) p.x() = -p.x();
        if (v < 0) p.y() = -p.y();
        return p;
    }

private:
    double step_;
    std::map<std::pair<int, int>, Vec3> node_;
};

}  // namespace tearline::test

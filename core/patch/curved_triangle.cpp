#include "core/patch/curved_triangle.h"

#include <cmath>

#include "core/patch/tolerances.h"

namespace tearline::patch {

CurvedTriangle::CurvedTriangle(const std::array<Vec3, 3>& corner, const std::array<Edge, 3>& edge)
    : corner_(corner), edge_(edge) {
    Vec3 edges = Vec3::Zero();
    for (const Edge& e : edge) edges += e[0] + e[1];
    middle_ = edges / 4.0 - (corner[0] + corner[1] + corner[2]) / 6.0;
}

Vec3 CurvedTriangle::at(const Vec3& w) const {
    Vec3 p = 6.0 * w[0] * w[1] * w[2] * middle_;
    for (int i = 0; i < 3; ++i) {
        const double a = w[i];
        const double b = w[(i + 1) % 3];
        p += a * a * a * corner_[i] + 3.0 * a * b * (a * edge_[i][0] + b * edge_[i][1]);
    }
    return p;
}

Vec3 CurvedTriangle::by(int k, const Vec3& w) const {
    const int n = (k + 1) % 3;
    const int m = (k + 2) % 3;
    return 3.0 * w[k] * w[k] * corner_[k] +
           3.0 * w[n] * (2.0 * w[k] * edge_[k][0] + w[n] * edge_[k][1]) +
           3.0 * w[m] * (w[m] * edge_[m][0] + 2.0 * w[k] * edge_[m][1]) +
           6.0 * w[n] * w[m] * middle_;
}

CurvedTriangle::Edge edge_between(const Vec3& a, const Vec3& normal_a, const Vec3& b,
                                  const Vec3& normal_b) {
    const auto control = [](const Vec3& p, const Vec3& q, const Vec3& n) -> Vec3 {
        return (2.0 * p + q - (q - p).dot(n) * n) / 3.0;
    };
    return {control(a, b, normal_a), control(b, a, normal_b)};
}

Vec3 turning_foot(const std::array<Vec3, 3>& corner, const std::array<Vec3, 3>& normal,
                  const Vec3& point) {
    double height = 0.0;
    Vec3 w(1, 0, 0);
    for (int step = 0; step < 3; ++step) {
        std::array<Vec3, 3> c;
        for (int i = 0; i < 3; ++i) c[i] = corner[i] + height * normal[i];
        const Vec3 n = (c[1] - c[0]).cross(c[2] - c[0]);
        const double size = n.squaredNorm();
        if (!(size > 0.0)) break;
        w[1] = (point - c[0]).cross(c[2] - c[0]).dot(n) / size;
        w[2] = (c[1] - c[0]).cross(point - c[0]).dot(n) / size;
        w[0] = 1.0 - w[1] - w[2];
        const double off = (point - c[0]).dot(n) / std::sqrt(size);
        height += off;
        if (std::abs(off) < tolerance::foot) break;
    }
    return w;
}

Vec3 turning_normal(const std::array<Vec3, 3>& corner, const std::array<Vec3, 3>& normal,
                    const Vec3& w) {
    Vec3 n = Vec3::Zero();
    for (int i = 0; i < 3; ++i) {
        const int j = (i + 1) % 3;
        const Vec3 e = corner[j] - corner[i];
        const Vec3 both = normal[i] + normal[j];
        const Vec3 mid = (both - 2.0 * e.dot(both) / e.squaredNorm() * e).normalized();
        n += w[i] * w[i] * normal[i] + 2.0 * w[i] * w[j] * mid;
    }
    return n.normalized();
}

}  // namespace tearline::patch

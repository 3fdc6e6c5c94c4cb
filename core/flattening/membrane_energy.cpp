#include "core/flattening/membrane_energy.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/flattening/tolerances.h"

namespace tearline::flattening {

namespace {
/// std::hypot guards against overflow that stretches never come near, at four times the cost.
double length(double x, double y) {
    return std::sqrt(x * x + y * y);
}
}  // namespace

Result<MembraneEnergy> MembraneEnergy::of(const surface::SurfaceMesh& mesh) {
    MembraneEnergy energy;
    energy.shape_.reserve(mesh.triangle.size());
    std::int32_t last = -1;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        const double l0 = mesh.edge_length[t][0];
        const double l1 = mesh.edge_length[t][1];
        const double l2 = mesh.edge_length[t][2];
        const double x = (l0 * l0 + l2 * l2 - l1 * l1) / (2.0 * l0);
        const double longest = std::max({l0, l1, l2});
        const double excess = 2.0 * longest - (l0 + l1 + l2);
        if (!(l0 > 0.0 && l1 > 0.0 && l2 > 0.0) ||
            !(excess <= tolerance::triangle_excess * longest))
            return no_safe_answer("flattening: triangle " + std::to_string(t) + " has edges of " +
                                  fixed(l0, 6) + ", " + fixed(l1, 6) + " and " + fixed(l2, 6) +
                                  " mm, which make no triangle; the lay surface is folded here");
        const double least = tolerance::sliver_height * longest;
        const double y = std::max(std::sqrt(std::max(l2 * l2 - x * x, 0.0)), least);
        energy.shape_.push_back({mesh.triangle[t], 0.5 * l0 * y, 1.0 / l0, -x / (l0 * y), 1.0 / y});
        energy.area_ += 0.5 * l0 * y;
        for (const std::int32_t v : mesh.triangle[t]) last = std::max(last, v);
    }
    energy.vertex_count_ = static_cast<std::size_t>(last + 1);
    energy.twist_.resize(energy.shape_.size());
    return energy;
}

MembraneEnergy::Map MembraneEnergy::map_of(const Shape& s, const Places& at) {
    const double* p0 = at.col(s.corner[0]).data();
    const double* p1 = at.col(s.corner[1]).data();
    const double* p2 = at.col(s.corner[2]).data();
    const double ex = p1[0] - p0[0], ey = p1[1] - p0[1];
    const double gx = p2[0] - p0[0], gy = p2[1] - p0[1];
    return {ex * s.a, ey * s.a, ex * s.b + gx * s.c, ey * s.b + gy * s.c};
}

void MembraneEnergy::scatter(const Shape& s, const Map& stress, Places& out) {
    const double x1 = s.area * (stress.f00 * s.a + stress.f01 * s.b);
    const double y1 = s.area * (stress.f10 * s.a + stress.f11 * s.b);
    const double x2 = s.area * stress.f01 * s.c;
    const double y2 = s.area * stress.f11 * s.c;
    double* p0 = out.col(s.corner[0]).data();
    double* p1 = out.col(s.corner[1]).data();
    double* p2 = out.col(s.corner[2]).data();
    p0[0] -= x1 + x2;
    p0[1] -= y1 + y2;
    p1[0] += x1;
    p1[1] += y1;
    p2[0] += x2;
    p2[1] += y2;
}

double MembraneEnergy::linearise(const Places& at, Places& gradient) {
    gradient.setZero(2, at.cols());
    double total = 0.0;
    for (std::size_t t = 0; t < shape_.size(); ++t) {
        const Shape& s = shape_[t];
        const Map f = map_of(s, at);
        const double hx = f.f00 + f.f11, hy = f.f10 - f.f01;
        const double gx = f.f00 - f.f11, gy = f.f10 + f.f01;
        const double h = length(hx, hy);
        // s1 + s2 = h and s1 - s2 = g: as squares, so that small strains do not cancel.
        total += 0.5 * s.area * ((h - 2.0) * (h - 2.0) + gx * gx + gy * gy);
        const bool turned = h > tolerance::no_stretch;
        const double over = turned ? 1.0 / h : 0.5;
        const double cosine = turned ? hx * over : 1.0;
        const double sine = turned ? hy * over : 0.0;
        twist_[t] = {cosine, sine, 2.0 * std::min(over, 0.5)};
        scatter(s,
                {2.0 * (f.f00 - cosine), 2.0 * (f.f10 - sine), 2.0 * (f.f01 + sine),
                 2.0 * (f.f11 - cosine)},
                gradient);
    }
    return total;
}

void MembraneEnergy::apply_hessian(const Places& direction, Places& out) const {
    out.setZero(2, direction.cols());
    for (std::size_t t = 0; t < shape_.size(); ++t) {
        const Map d = map_of(shape_[t], direction);
        const Twist& w = twist_[t];
        const double turn = w.stiffness * (w.cosine * (d.f10 - d.f01) - w.sine * (d.f00 + d.f11));
        scatter(shape_[t],
                {2.0 * d.f00 + turn * w.sine, 2.0 * d.f10 - turn * w.cosine,
                 2.0 * d.f01 + turn * w.cosine, 2.0 * d.f11 + turn * w.sine},
                out);
    }
}

std::vector<std::array<double, 2>> MembraneEnergy::stretches(const Places& at) const {
    std::vector<std::array<double, 2>> out(shape_.size());
    for (std::size_t t = 0; t < shape_.size(); ++t) {
        const Map f = map_of(shape_[t], at);
        const double h = length(f.f00 + f.f11, f.f10 - f.f01);
        const double g = length(f.f00 - f.f11, f.f10 + f.f01);
        out[t] = {0.5 * (h + g), 0.5 * (h - g)};
    }
    return out;
}

double MembraneEnergy::stiffness(std::size_t triangle, std::size_t i, std::size_t j) const {
    const Shape& s = shape_[triangle];
    const std::array<Vec2, 3> slope{Vec2(-s.a, -s.b - s.c), Vec2(s.a, s.b), Vec2(0.0, s.c)};
    return s.area * slope[i].dot(slope[j]);
}

}  // namespace tearline::flattening

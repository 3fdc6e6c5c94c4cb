#pragma once
#include <random>

#include "core/pieces/ply_shape.h"
#include "tests/support/analytic_patch.h"

/// Patches bent two ways as hulls are, and plies on them, from one stream of random numbers.
namespace tearline::test {

/// Bends of a graph z = -(a x^2 + 2 b x y + c y^2) / 2 [1/mm].
struct Bends {
    double a = 0.0, b = 0.0, c = 0.0;
};

/// The graph with its upward normal and its principal curvatures by the second fundamental form.
inline AnalyticMap graph_map(const Bends& k) {
    return [k](const Vec2& p, int) {
        const double zx = -(k.a * p.x() + k.b * p.y()), zy = -(k.b * p.x() + k.c * p.y());
        const double w = std::sqrt(1.0 + zx * zx + zy * zy);
        surface::SurfaceSample s{
            {p.x(), p.y(),
             -0.5 * (k.a * p.x() * p.x() + 2.0 * k.b * p.x() * p.y() + k.c * p.y() * p.y())},
            Vec3(-zx, -zy, 1.0) / w,
            0.0,
            0.0};
        const double gauss = (k.a * k.c - k.b * k.b) / (w * w * w * w);
        const double mean = 0.5 *
                            ((1.0 + zx * zx) * k.c - 2.0 * zx * zy * k.b + (1.0 + zy * zy) * k.a) /
                            (w * w * w);
        const double root = std::sqrt(std::max(0.0, mean * mean - gauss));
        s.curvature_min = mean - root;
        s.curvature_max = mean + root;
        return s;
    };
}

/// Same numbers on every machine: the standard's engine, scaled by hand.
class Draw {
public:
    explicit Draw(std::uint32_t seed) : engine_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0);
    }
    double log_between(double low, double high) {
        return std::exp(between(std::log(low), std::log(high)));
    }
    int one_of(int count) { return static_cast<int>(between(0.0, count)); }

private:
    std::mt19937 engine_;
};

/// A patch of half a metre: one principal radius 220 mm and up, the other larger, either way round.
inline surface::Patch hull_like_patch(Draw& draw) {
    const double tight = draw.one_of(4) == 0 ? -1.0 / draw.log_between(400.0, 4000.0)
                                             : 1.0 / draw.log_between(330.0, 4000.0);
    const double slack = (draw.one_of(3) == 0 ? -1.0 : 1.0) / draw.log_between(330.0, 20000.0);
    const double turn = draw.between(0.0, std::numbers::pi);
    const double c = std::cos(turn), s = std::sin(turn);
    const Bends bends{tight * c * c + slack * s * s, (tight - slack) * c * s,
                      tight * s * s + slack * c * c};
    return analytic_patch(graph_map(bends), within_disc(250.0), 260.0, 16.0);
}

/// A ply on it: an ellipse with a fabric of random limits, lap and roll.
inline pieces::PlyShape random_ply(Draw& draw, const surface::Patch& patch) {
    pieces::PlyShape shape;
    shape.patch = &patch;
    const double a = draw.between(90.0, 225.0), b = draw.between(90.0, 225.0);
    for (int i = 0; i < 180; ++i) {
        const double t = 2.0 * std::numbers::pi * i / 180;
        shape.region.outer.emplace_back(a * std::cos(t), b * std::sin(t));
    }
    shape.depth = [depth = draw.between(0.0, 6.0)](const Vec2&) { return depth; };
    shape.ply = 1;
    job::Fabric& fabric = shape.fabric;
    fabric.name = "cloth of the test";
    fabric.kind = std::array{job::FabricKind::mat, job::FabricKind::woven,
                             job::FabricKind::biaxial}[draw.one_of(3)];
    fabric.strain_limit = draw.log_between(0.0003, 0.05);
    fabric.shear_limit = draw.log_between(0.3, 40.0);
    fabric.roll_width = draw.log_between(250.0, 1300.0);
    fabric.lap = draw.between(25.0, 60.0);
    shape.entry.axis = draw.between(-90.0, 90.0);
    shape.entry.axis_free = draw.one_of(3) == 0 ? 15.0 : 0.0;
    return shape;
}

}  // namespace tearline::test

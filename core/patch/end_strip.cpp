#include "core/patch/end_strip.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/patch/tolerances.h"

namespace tearline::patch {
namespace {

std::vector<double> steps_of(const std::vector<Vec3>& place) {
    std::vector<double> steps;
    for (std::size_t i = 0; i + 1 < place.size(); ++i)
        steps.push_back((place[i + 1] - place[i]).norm());
    return steps;
}

/// How a unit vector along `of` changes when that changes by `by`.
Vec3 unit_by(const Vec3& of, const Vec3& by) {
    const double length = of.norm();
    const Vec3 unit = of / length;
    return (by - unit.dot(by) * unit) / length;
}

}  // namespace

EndStrip::EndStrip(std::vector<Vec3> place, std::vector<Vec3> normal, const EndBend& bend)
    : bend_(bend), place_(place), normal_(std::move(normal), steps_of(place)) {}

EndStrip::Frame EndStrip::frame(double u) const {
    const double last = static_cast<double>(place_.segments());
    const double held = std::clamp(u, 0.0, last);
    const auto segment = std::min(static_cast<std::size_t>(held), place_.segments() - 1);
    const double part = held - static_cast<double>(segment);
    Frame f;
    f.place = place_.at(segment, part);
    f.place_by = place_.slope(segment, part);
    const Vec3 along = f.place_by.normalized();
    const Vec3 along_by = unit_by(f.place_by, place_.bend(segment, part));
    const Vec3 up = normal_.at(segment, part);
    const Vec3 up_by = normal_.slope(segment, part);
    const Vec3 out = along.cross(up);
    f.out = out.normalized();
    f.out_by = unit_by(out, along_by.cross(up) + along.cross(up_by));
    f.normal = f.out.cross(along);
    f.normal_by = f.out_by.cross(along) + f.out.cross(along_by);
    return f;
}

EndStrip::Point EndStrip::point(double u, double v, bool on_bend) const {
    const Frame f = frame(u);
    const double r = bend_.radius;
    const double angle = on_bend ? v / r : bend_.turn;
    const double flat = on_bend ? 0.0 : v - bend_.girth();
    const double c = std::cos(angle), s = std::sin(angle);
    const Vec3 spoke = c * f.normal + s * f.out, spoke_by = c * f.normal_by + s * f.out_by;
    const Vec3 way = c * f.out - s * f.normal, way_by = c * f.out_by - s * f.normal_by;
    Point p;
    p.place = f.place + r * (spoke - f.normal) + flat * way;
    p.by_u = f.place_by + r * (spoke_by - f.normal_by) + flat * way_by;
    p.by_v = way;
    p.normal = way.cross(p.by_u).normalized();
    return p;
}

surface::SurfaceSample EndStrip::at(double u, double v) const {
    constexpr double aside = tolerance::strip_aside;
    const bool on_bend = v < bend_.girth();
    const Point here = point(u, v, on_bend);
    const double du = aside / place_.step(std::min(static_cast<std::size_t>(std::max(u, 0.0)),
                                                   place_.segments() - 1));
    const double last = static_cast<double>(place_.segments());
    const double before = std::max(0.0, u - du), after = std::min(last, u + du);
    // By the spline's own parameter, so that it goes with `by_u`.
    const Vec3 n_u = (point(after, v, on_bend).normal - point(before, v, on_bend).normal) /
                     (after - before) * (du / aside);
    const Vec3 n_v =
        (point(u, v + aside, on_bend).normal - point(u, v - aside, on_bend).normal) / (2.0 * aside);
    Eigen::Matrix2d metric, turn;
    metric << here.by_u.dot(here.by_u), here.by_u.dot(here.by_v), here.by_u.dot(here.by_v),
        here.by_v.dot(here.by_v);
    turn << n_u.dot(here.by_u), n_v.dot(here.by_u), n_u.dot(here.by_v), n_v.dot(here.by_v);
    const Eigen::Matrix2d shape = metric.inverse() * turn;
    const double mean = 0.5 * shape.trace();
    const double spread = std::sqrt(std::max(0.0, mean * mean - shape.determinant()));
    return {here.place, here.normal, mean - spread, mean + spread};
}

double EndStrip::stretch_along(double u, double v) const {
    const Point p = point(u, v, v < bend_.girth());
    const Frame f = frame(u);
    const Vec3 way = p.by_u - p.by_u.dot(p.by_v) * p.by_v;
    return std::max(0.0, way.dot(f.place_by.normalized())) / f.place_by.norm();
}

}  // namespace tearline::patch

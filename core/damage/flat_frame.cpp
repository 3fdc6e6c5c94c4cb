#include "core/damage/flat_frame.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <queue>
#include <stdexcept>

#include "core/base/tolerances.h"
#include "core/damage/tolerances.h"
#include "core/plane/box.h"
#include "core/plane/nearest_on_line.h"
#include "core/surface/locate_near.h"

namespace tearline::damage {

namespace {

/// The area centroid of what the outline encloses.
///
/// It is taken in the chart, which keeps areas nearly and, unlike a fan in space, keeps their sign
/// for outlines that are not star-shaped.
Vec2 area_centroid(const DamageOutline& outline) {
    const Vec2 origin = outline.chart.front();
    Vec2 centroid = Vec2::Zero();
    double total = 0.0;
    for (std::size_t i = 1; i + 1 < outline.chart.size(); ++i) {
        const Vec2 a = outline.chart[i] - origin, b = outline.chart[i + 1] - origin;
        const double area = cross2(a, b);
        centroid += area * (a + b) / 3.0;
        total += area;
    }
    return std::abs(total) > 0.0 ? Vec2(origin + centroid / total) : origin;
}

/// The base point over it.
Vec3 above_centroid(const surface::Patch& patch, const DamageOutline& outline) {
    if (const auto at = patch.locate(area_centroid(outline))) return patch.sample(*at).position;
    Vec3 mean = Vec3::Zero();
    for (const OutlinePoint& point : outline.points) mean += point.position;
    return mean / static_cast<double>(outline.points.size());
}

/// Adds how far along a line a loop is crossed.
void add_crossings(const Loop2& loop, const Vec2& from, const Vec2& way,
                   std::vector<double>& crossed) {
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const double a = cross2(way, loop[j] - from), b = cross2(way, loop[i] - from);
        if ((a > 0.0) == (b > 0.0)) continue;
        const Vec2 at = loop[j] + a / (a - b) * (loop[i] - loop[j]);
        crossed.push_back((at - from).dot(way));
    }
}

/// The middle beside an opening that holds the centroid: along a way from there, half way from the
/// opening's edge to the next line.
Vec2 beside_opening(const Loop2& opening, const DamageOutline& outline,
                    const std::vector<Loop2>& openings, const Vec2& way) {
    const Vec2 from = area_centroid(outline);
    std::vector<double> own, others;
    add_crossings(opening, from, way, own);
    const double edge = *std::max_element(own.begin(), own.end());
    add_crossings(outline.chart, from, way, others);
    for (const Loop2& other : openings)
        if (&other != &opening) add_crossings(other, from, way, others);
    double next = std::numeric_limits<double>::infinity();
    for (const double at : others)
        if (at > edge) next = std::min(next, at);
    return from + 0.5 * (edge + next) * way;
}

/// The inside point farthest from the loop, by halving squares and keeping those that can still
/// win.
Vec2 innermost_point(const Loop2& loop) {
    struct Square {
        Vec2 centre;
        double half, distance;
        [[nodiscard]] double bound() const { return distance + half * std::numbers::sqrt2; }
        bool operator<(const Square& other) const { return bound() < other.bound(); }
    };
    const auto square = [&](const Vec2& centre, double half) {
        const double d = plane::distance_to_loop(loop, centre);
        return Square{centre, half, contains(loop, centre) ? d : -d};
    };
    const auto [low, high] = plane::box_round(loop);
    std::priority_queue<Square> open;
    const double half = 0.5 * (high - low).maxCoeff();
    open.push(square(0.5 * (low + high), half));
    Square best = open.top();
    while (!open.empty() && open.top().bound() > best.distance + tolerance::innermost_point) {
        const Square top = open.top();
        open.pop();
        if (top.distance > best.distance) best = top;
        const double quarter = 0.5 * top.half;
        for (const double dx : {-quarter, quarter})
            for (const double dy : {-quarter, quarter})
                open.push(square(top.centre + Vec2(dx, dy), quarter));
    }
    return best.centre;
}

/// Whether a unit direction lies within some degrees of a line, either way.
bool near_line(const Vec3& direction, const Vec3& line, double degrees) {
    return std::abs(direction.dot(line)) > std::cos(degrees * std::numbers::pi / 180.0);
}

FlatFrame frame_at(const surface::Patch& patch, const surface::Location& at, const Vec3& bow,
                   const Vec3& up) {
    FlatFrame frame;
    frame.at = at;
    frame.chart = patch.chart_point(frame.at);
    const surface::SurfaceSample sample = patch.sample(frame.at);
    frame.middle = sample.position;
    frame.normal = sample.normal;

    const auto tangent = [&](const Vec3& v) -> Vec3 {
        return v - v.dot(frame.normal) * frame.normal;
    };
    // Bow and up may both lie near the normal where they are far from square to each other; the
    // bow along it says nothing of the place.
    const bool bow_says = tangent(bow).norm() > tolerance::least_bow_up_sine;
    frame.y_is_up = !near_line(up, frame.normal, tolerance::bottom_degrees) || !bow_says;
    frame.y = tangent(frame.y_is_up ? up : bow).normalized();
    frame.x = frame.y.cross(frame.normal);
    frame.axis_from_is_bow = !near_line(bow, frame.normal, tolerance::transom_degrees);
    frame.axis_from = tangent(frame.axis_from_is_bow ? bow : Vec3(bow.cross(up))).normalized();
    return frame;
}

}  // namespace

FlatFrame flat_frame(const surface::Patch& patch, const DamageOutline& outline, const Vec3& bow,
                     const Vec3& up, const std::vector<Loop2>& openings) {
    surface::Location at = patch.nearest(above_centroid(patch, outline)).at;
    if (!contains(outline.chart, patch.chart_point(at))) {
        const auto inside = patch.locate(innermost_point(outline.chart));
        if (!inside && openings.empty())
            throw std::logic_error("flat_frame: the outline encloses a place off the patch");
        if (inside) at = *inside;
    }
    const FlatFrame frame = frame_at(patch, at, bow, up);
    const Vec2 centroid = area_centroid(outline);
    for (const Loop2& opening : openings) {
        if (!contains(opening, centroid)) continue;
        const Vec2 way = surface::chart_direction(patch, at.triangle, frame.y).normalized();
        const auto beside = patch.locate(beside_opening(opening, outline, openings, way));
        if (beside) return frame_at(patch, *beside, bow, up);
    }
    return frame;
}

double axis_from_degrees(const FlatFrame& frame) {
    return std::atan2(frame.axis_from.dot(frame.y), frame.axis_from.dot(frame.x)) * 180.0 /
           std::numbers::pi;
}

}  // namespace tearline::damage

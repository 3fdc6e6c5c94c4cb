#include "core/hull/cut_polygon.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/base/numbers.h"
#include "core/hull/tolerances.h"
#include "core/plane/crossings.h"
#include "core/plane/triangulate_region.h"

namespace tearline::hull {
namespace {

constexpr std::size_t most_corners = 5000;  // beyond, the time grows out of hand
constexpr double most_bent = 0.2;  // out of its plane, of the breadth: an edge folded by 40 degrees

const Vec3& at(const std::vector<Vec3>& points, std::int32_t index) {
    return points[static_cast<std::size_t>(index)];
}

/// The plane that a polygon lies in best, and how large it is there.
struct MeanPlane {
    Vec3 middle{0, 0, 0};
    Vec3 normal{0, 0, 0};  ///< unit; none where the polygon is a line there and back
    double breadth = 0.0;  ///< of the box round it, corner to corner
    double none = 0.0;     ///< twice an area that the file's numbers do not tell from none
};

MeanPlane mean_plane(const std::vector<Vec3>& points, std::span<const std::int32_t> polygon) {
    MeanPlane plane;
    Vec3 low = at(points, polygon[0]), high = low;
    for (const std::int32_t v : polygon) {
        low = low.cwiseMin(at(points, v));
        high = high.cwiseMax(at(points, v));
    }
    plane.middle = 0.5 * (low + high);
    plane.breadth = (high - low).norm();
    const double largest = std::max(low.cwiseAbs().maxCoeff(), high.cwiseAbs().maxCoeff());
    plane.none = tolerance::weld_relative * largest * plane.breadth;
    const std::size_t n = polygon.size();
    Vec3 area(0, 0, 0), corner(0, 0, 0);
    for (std::size_t k = 0; k < n; ++k) {
        const Vec3 a = at(points, polygon[k]) - plane.middle;
        const Vec3 b = at(points, polygon[(k + 1) % n]) - plane.middle;
        const Vec3 c = at(points, polygon[(k + 2) % n]) - plane.middle;
        area += a.cross(b);
        const Vec3 here = (b - a).cross(c - b);
        if (here.squaredNorm() > corner.squaredNorm()) corner = here;
    }
    // The two halves of a figure of eight take each other away: a corner tells the plane there.
    if (!(area.norm() > plane.none)) area = corner;
    if (area.norm() > plane.none) plane.normal = area.normalized();
    return plane;
}

/// The corner farthest out of the plane, where the polygon is bent too far to have one.
std::optional<Vec3> bent_at(const std::vector<Vec3>& points, std::span<const std::int32_t> polygon,
                            const MeanPlane& plane) {
    double low = 0.0, high = 0.0;
    Vec3 worst = plane.middle;
    for (const std::int32_t v : polygon) {
        const double off = plane.normal.dot(at(points, v) - at(points, polygon[0]));
        if (off < low || off > high) worst = at(points, v);
        low = std::min(low, off);
        high = std::max(high, off);
    }
    if (high - low > most_bent * plane.breadth) return worst;
    return std::nullopt;
}

void add_fan(std::span<const std::int32_t> polygon, Triangles& triangles) {
    for (std::size_t k = 2; k < polygon.size(); ++k) {
        triangles.push_back({polygon[0], polygon[k - 1], polygon[k]});
    }
}

/// Whether the polygon, seen along its normal, turns left at every corner, goes round once, and
/// every triangle of its fan has area.
bool fan_fits(const std::vector<Vec3>& points, std::span<const std::int32_t> polygon,
              const MeanPlane& plane) {
    const Vec3& normal = plane.normal;
    const std::size_t n = polygon.size();
    double turned = 0.0;
    for (std::size_t k = 0; k < n; ++k) {
        const Vec3& p = at(points, polygon[k]);
        const Vec3& q = at(points, polygon[(k + 1) % n]);
        const Vec3 before = q - p, after = at(points, polygon[(k + 2) % n]) - q;
        const double left = before.cross(after).dot(normal);
        if (left < -plane.none) return false;
        const double ahead = before.dot(after) - before.dot(normal) * after.dot(normal);
        turned += std::atan2(left, ahead);
        const bool in_fan = k > 0 && k + 1 < n;
        const Vec3& first = at(points, polygon[0]);
        if (in_fan && !((p - first).cross(q - first).dot(normal) > plane.none)) return false;
    }
    return turned < 3.0 * std::numbers::pi;  // one round is 2 pi, two are 4 pi
}

/// A polygon laid into its mean plane.
Loop2 laid_flat(const std::vector<Vec3>& points, std::span<const std::int32_t> polygon,
                const MeanPlane& plane) {
    const Vec3 across = plane.normal.unitOrthogonal();
    const Vec3 up = plane.normal.cross(across);
    Loop2 flat;
    for (const std::int32_t v : polygon) {
        const Vec3 d = at(points, v) - plane.middle;
        flat.emplace_back(d.dot(across), d.dot(up));
    }
    return flat;
}

/// Triangles of the corners' numbers inside a polygon; nothing where they do not cover it once.
std::optional<std::vector<std::array<std::size_t, 3>>> triangles_inside(const Loop2& flat,
                                                                        double none) {
    plane::Skeleton outline{flat, {}};
    const auto n = static_cast<std::int32_t>(flat.size());
    for (std::int32_t k = 0; k < n; ++k)
        outline.edges.push_back({k, (k + 1) % n, plane::EdgeKind::outline});
    const plane::PlaneMesh mesh = plane::triangulate_region(outline, {}, {flat, {}});
    // Edges that touch may cross by rounding: the crossing is the corner there.
    std::vector<std::size_t> corner;
    for (const Vec2& p : mesh.points) {
        const auto nearest =
            std::min_element(flat.begin(), flat.end(), [&](const Vec2& a, const Vec2& b) {
                return (a - p).squaredNorm() < (b - p).squaredNorm();
            });
        corner.push_back(static_cast<std::size_t>(nearest - flat.begin()));
    }
    std::vector<std::array<std::size_t, 3>> triangles;
    double twice = 0.0;
    for (const auto& t : mesh.triangle) {
        const std::size_t a = corner[t[0]], b = corner[t[1]], c = corner[t[2]];
        if (a == b || b == c || c == a) continue;
        twice += cross2(flat[b] - flat[a], flat[c] - flat[a]);
        triangles.push_back({a, b, c});
    }
    if (std::abs(twice - 2.0 * signed_area(flat)) > none * static_cast<double>(flat.size()))
        return std::nullopt;
    return triangles;
}

}  // namespace

std::optional<std::string> cut_polygon(const std::vector<Vec3>& points,
                                       std::span<const std::int32_t> polygon,
                                       Triangles& triangles) {
    if (polygon.size() == 3) {
        triangles.push_back({polygon[0], polygon[1], polygon[2]});
        return std::nullopt;
    }
    const auto refuse = [&](const std::string& what, const Vec3& where) {
        return "a face of " + std::to_string(polygon.size()) + " corners " + what + " near (" +
               fixed(where.x(), 3) + ", " + fixed(where.y(), 3) + ", " + fixed(where.z(), 3) + ")" +
               ", in the unit of the file; export the model cut into triangles";
    };
    const MeanPlane plane = mean_plane(points, polygon);
    if (plane.normal.isZero()) {
        add_fan(polygon, triangles);
        return std::nullopt;
    }
    if (const auto where = bent_at(points, polygon, plane)) {
        return refuse("is bent far out of a plane", *where);
    }
    if (fan_fits(points, polygon, plane)) {
        add_fan(polygon, triangles);
        return std::nullopt;
    }
    if (polygon.size() > most_corners) return refuse("has too many to be cut up", plane.middle);
    const Loop2 flat = laid_flat(points, polygon, plane);
    if (const auto corner = plane::first_side_crossed({flat, {}}, plane.none)) {
        return refuse("crosses itself", at(points, polygon[*corner]));
    }
    const auto inside = triangles_inside(flat, plane.none);
    if (!inside) return refuse("covers itself", plane.middle);
    for (const auto& [a, b, c] : *inside) triangles.push_back({polygon[a], polygon[b], polygon[c]});
    return std::nullopt;
}

}  // namespace tearline::hull

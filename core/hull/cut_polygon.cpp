#include "core/hull/cut_polygon.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/base/numbers.h"
#include "core/hull/tolerances.h"

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

/// A polygon that is not convex, laid into its mean plane.
class EarCutter {
public:
    EarCutter(const std::vector<Vec3>& points, std::span<const std::int32_t> polygon,
              const MeanPlane& plane)
        : corners_(polygon.begin(), polygon.end()), none_(plane.none) {
        const Vec3 across = plane.normal.unitOrthogonal();
        const Vec3 up = plane.normal.cross(across);
        for (const std::int32_t v : polygon) {
            const Vec3 d = at(points, v) - plane.middle;
            flat_.emplace_back(d.dot(across), d.dot(up));
        }
        for (std::size_t k = 0; k < flat_.size(); ++k) left_.push_back(k);
    }

    /// The corner from which runs an edge that another one crosses, if any do.
    [[nodiscard]] std::optional<std::size_t> crossing() const {
        const std::size_t n = flat_.size();
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = i + 2; j < n; ++j) {
                const std::size_t after_i = (i + 1) % n, after_j = (j + 1) % n;
                if (after_j == i) continue;
                if (parted(i, after_i, j, after_j) && parted(j, after_j, i, after_i)) return i;
            }
        }
        return std::nullopt;
    }

    /// Adds the triangles; false where the polygon has no ear left to take.
    bool cut(Triangles& triangles) {
        while (left_.size() > 3) {
            // First as if touching were crossing; then bare; a needle or spike goes last.
            std::optional<std::size_t> ear = best_ear(none_);
            if (!ear) ear = best_ear(0.0);
            if (!ear) ear = spike();
            if (!ear) return false;
            add(*ear, triangles);
            left_.erase(left_.begin() + static_cast<std::ptrdiff_t>(*ear));
        }
        add(1, triangles);
        return true;
    }

private:
    [[nodiscard]] double twice_area(std::size_t a, std::size_t b, std::size_t c) const {
        return cross2(flat_[b] - flat_[a], flat_[c] - flat_[a]);
    }

    /// Whether c and d lie on two sides of the line a b.
    [[nodiscard]] bool parted(std::size_t a, std::size_t b, std::size_t c, std::size_t d) const {
        const double one = twice_area(a, b, c), other = twice_area(a, b, d);
        return (one > none_ && other < -none_) || (one < -none_ && other > none_);
    }

    /// The corners before, at and after place k of what is left.
    [[nodiscard]] std::array<std::size_t, 3> ear_at(std::size_t k) const {
        const std::size_t n = left_.size();
        return {left_[(k + n - 1) % n], left_[k], left_[(k + 1) % n]};
    }

    void add(std::size_t k, Triangles& triangles) const {
        const auto [a, b, c] = ear_at(k);
        triangles.push_back({corners_[a], corners_[b], corners_[c]});
    }

    /// Whether another corner lies in the triangle or on its rim.
    [[nodiscard]] bool occupied(const std::array<std::size_t, 3>& ear, double slack) const {
        const auto [a, b, c] = ear;
        return std::any_of(left_.begin(), left_.end(), [&](std::size_t p) {
            const Vec2& here = flat_[p];
            if (here == flat_[a] || here == flat_[b] || here == flat_[c]) return false;
            return twice_area(a, b, p) >= -slack && twice_area(b, c, p) >= -slack &&
                   twice_area(c, a, p) >= -slack;
        });
    }

    /// The ear of the best shape: area against the longest side squared.
    [[nodiscard]] std::optional<std::size_t> best_ear(double slack) const {
        std::optional<std::size_t> best;
        double best_shape = 0.0;
        for (std::size_t k = 0; k < left_.size(); ++k) {
            const auto ear = ear_at(k);
            const auto [a, b, c] = ear;
            const double area = twice_area(a, b, c);
            if (!(area > slack)) continue;
            const double longest =
                std::max({(flat_[b] - flat_[a]).squaredNorm(), (flat_[c] - flat_[b]).squaredNorm(),
                          (flat_[a] - flat_[c]).squaredNorm()});
            if (!(area / longest > best_shape) || occupied(ear, slack)) continue;
            best_shape = area / longest;
            best = k;
        }
        return best;
    }

    /// A corner that goes there and back, or straight on.
    [[nodiscard]] std::optional<std::size_t> spike() const {
        for (std::size_t k = 0; k < left_.size(); ++k) {
            const auto [a, b, c] = ear_at(k);
            if (std::abs(twice_area(a, b, c)) <= none_) return k;
        }
        return std::nullopt;
    }

    std::vector<std::int32_t> corners_;
    std::vector<Vec2> flat_;
    std::vector<std::size_t> left_;  ///< places in flat_ not yet cut off
    double none_ = 0.0;              ///< twice an area that counts as none
};

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
    EarCutter cutter(points, polygon, plane);
    if (const auto corner = cutter.crossing()) {
        return refuse("crosses itself", at(points, polygon[*corner]));
    }
    if (!cutter.cut(triangles)) return refuse("covers itself", plane.middle);
    return std::nullopt;
}

}  // namespace tearline::hull

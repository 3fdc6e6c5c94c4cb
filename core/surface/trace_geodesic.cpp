#include "core/surface/trace_geodesic.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/surface/intrinsic.h"
#include "core/surface/locate_near.h"
#include "core/surface/tolerances.h"

namespace tearline::surface {
namespace {

/// Where a ray stands: in which triangle, laid flat, at which place, going which way.
struct Walker {
    const Patch& patch;
    std::size_t t = 0;
    FlatTriangle flat{};
    Vec3 weights{1, 0, 0};
    Vec2 direction{1, 0};  ///< unit, in the flat triangle

    explicit Walker(const Patch& p) : patch(p) {}

    void start(const Ray& ray) {
        t = ray.from.triangle.index();
        weights = ray.from.weights;
        flat = lay_flat(patch.mesh.edge_length[t]);
        const auto& v = patch.mesh.triangle[t];
        const Vec3 facet = facet_normal(patch.mesh, TriangleId(t));
        const Vec3 normal = corner_normal(patch.mesh, location());
        const Vec3 tangent = ray.direction - ray.direction.dot(normal) * normal;
        const Vec3 d = carry_over(tangent, normal, facet);
        // Barycentric rates in the facet, then the same rates in the flat triangle.
        const Vec3 e1 = patch.mesh.position[v[1]] - patch.mesh.position[v[0]];
        const Vec3 e2 = patch.mesh.position[v[2]] - patch.mesh.position[v[0]];
        const double twice = e1.cross(e2).dot(facet);
        const double w1 = d.cross(e2).dot(facet) / twice;
        const double w2 = e1.cross(d).dot(facet) / twice;
        direction = w1 * flat[1] + w2 * flat[2];
        const double length = direction.norm();
        direction = length > 0.0 ? Vec2(direction / length) : Vec2(1, 0);
    }

    [[nodiscard]] Location location() const { return {TriangleId(t), weights}; }

    [[nodiscard]] Vec3 space_direction() const {
        return moving_direction(patch, location(), weight_rates(flat, direction));
    }

    [[nodiscard]] Vec2 chart_direction() const {
        const auto& v = patch.mesh.triangle[t];
        const Vec3 r = weight_rates(flat, direction);
        const Vec2 d =
            r[0] * patch.chart[v[0]] + r[1] * patch.chart[v[1]] + r[2] * patch.chart[v[2]];
        return d.normalized();
    }

    /// The edge by which the ray leaves the triangle and how far that is [mm].
    struct Exit {
        int edge = -1;
        double length = std::numeric_limits<double>::infinity();
    };
    [[nodiscard]] Exit find_exit() const {
        const Vec3 rate = weight_rates(flat, direction);
        Exit exit;
        for (int corner = 0; corner < 3; ++corner) {
            if (!(rate[corner] < 0.0)) continue;  // only edges it runs towards
            const double s = std::max(weights[corner], 0.0) / -rate[corner];
            if (s < exit.length) exit = {(corner + 1) % 3, s};
        }
        return exit;
    }

    void advance(double length) {
        weights += length * weight_rates(flat, direction);
        weights = weights.cwiseMax(0.0);
        weights /= weights.sum();
    }

    /// Unfolds the triangle across `edge` and goes on in it. False at the rim.
    [[nodiscard]] bool cross(int edge) {
        const std::int32_t next = patch.neighbour[t][edge];
        if (next < 0) return false;
        const int i = edge;
        const int j = (edge + 1) % 3;
        const std::int32_t a = patch.mesh.triangle[t][i];
        const std::int32_t b = patch.mesh.triangle[t][j];
        // A ray through a vertex is moved aside by a hair, so that it never stalls there.
        const double sum = weights[i] + weights[j];
        const double along =
            std::clamp(weights[j] / sum, tolerance::vertex_nudge, 1.0 - tolerance::vertex_nudge);
        const Vec2 e = (flat[j] - flat[i]).normalized();
        const Vec2 d(direction.dot(e), cross2(e, direction));  // along and across the edge

        const auto& v = patch.mesh.triangle[next];
        int k = 0;  // corner of the next triangle that is b; the edge runs b -> a there
        while (!(v[k] == b && v[(k + 1) % 3] == a)) ++k;
        t = static_cast<std::size_t>(next);
        flat = lay_flat(patch.mesh.edge_length[t]);
        weights = Vec3::Zero();
        weights[k] = along;
        weights[(k + 1) % 3] = 1.0 - along;
        const Vec2 f = (flat[k] - flat[(k + 1) % 3]).normalized();  // a -> b here
        direction = d.x() * f + d.y() * turned_left(f);
        return true;
    }
};

}  // namespace

TracedRay trace_geodesic(const Patch& patch, const Ray& ray, std::span<const double> distances) {
    TracedRay traced;
    Walker walker(patch);
    walker.start(ray);
    std::size_t reached = 0;
    // Each step crosses one edge; a ray that crosses more than this is caught in slivers.
    std::size_t steps = 4 * patch.mesh.triangle.size() + 16;
    while (reached < distances.size() && steps-- > 0) {
        const Walker::Exit exit = walker.find_exit();
        const double wanted = distances[reached] - traced.length;
        if (wanted <= exit.length) {
            walker.advance(wanted);
            traced.length = distances[reached++];
            traced.at.push_back(walker.location());
            traced.direction.push_back(walker.space_direction());
            continue;
        }
        walker.advance(exit.length);
        traced.length += exit.length;
        if (patch.neighbour[walker.t][exit.edge] < 0) {
            traced.left_patch = true;
            traced.left_over_hull_end = patch.hull_end[walker.t][exit.edge];
            break;
        }
        if (!walker.cross(exit.edge)) break;
    }
    traced.end = walker.location();
    traced.end_chart_direction = walker.chart_direction();
    return traced;
}

}  // namespace tearline::surface

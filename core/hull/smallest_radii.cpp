#include "core/hull/smallest_radii.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/tolerances.h"
#include "core/hull/tolerances.h"
#include "core/hull/topology.h"

namespace tearline::hull {
namespace {

/// Keeps the largest curvature of each sign.
struct Extremes {
    double convex = 0.0, concave = 0.0;  ///< [1/mm] both >= 0
    Vec3 convex_at = Vec3::Zero(), concave_at = Vec3::Zero();

    void add(double curvature, const Vec3& at) {  // positive where it bulges outward
        if (curvature > convex) {
            convex = curvature;
            convex_at = at;
        }
        if (-curvature > concave) {
            concave = -curvature;
            concave_at = at;
        }
    }
};

/// Both principal curvatures, positive where the surface bulges outward.
/// @source  det(II - k I) = 0 with the fundamental forms of the parametrisation
void add_principal(Extremes& extremes, const FacePoint& p, double sign) {
    const Vec3 cross = p.du.cross(p.dv);
    const double e = p.du.dot(p.du), f = p.du.dot(p.dv), g = p.dv.dot(p.dv);
    const double det = e * g - f * f;
    if (!(det > tolerance::degenerate_parameters * e * g)) return;  // a pole
    const Vec3 n = sign * cross.normalized();
    const double l = -p.duu.dot(n), m = -p.duv.dot(n), k = -p.dvv.dot(n);
    const double mean = (e * k - 2.0 * f * m + g * l) / (2.0 * det);
    const double gauss = (l * k - m * m) / det;
    const double root = std::sqrt(std::max(0.0, mean * mean - gauss));
    extremes.add(mean + root, p.position);
    extremes.add(mean - root, p.position);
}

Extremes of_faces(const Hull& hull) {
    Extremes extremes;
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const auto& uv = hull.corner_uv[t];
        const double sign = hull.cad->outward_sign(hull.face[t]);
        for (const Vec2& at : {uv[0], uv[1], uv[2], Vec2((uv[0] + uv[1] + uv[2]) / 3.0)}) {
            add_principal(extremes, hull.cad->evaluate(hull.face[t], at), sign);
        }
    }
    return extremes;
}

/// Normals of a mesh at its vertices, where it is smooth.
struct SmoothVertices {
    std::vector<Vec3> normal;
    std::vector<double> edge_sum;     ///< [mm] lengths of the edges round each vertex
    std::vector<std::int32_t> edges;  ///< how many
    std::vector<bool> on_crease;
};

SmoothVertices smooth_vertices(const Hull& hull, const Topology& topology) {
    const std::size_t count = hull.vertices.size();
    SmoothVertices s{std::vector<Vec3>(count, Vec3::Zero()), std::vector<double>(count, 0.0),
                     std::vector<std::int32_t>(count, 0), std::vector<bool>(count, false)};
    const double crease = std::cos(tolerance::crease_degrees * std::numbers::pi / 180.0);
    const auto normal = [&](std::size_t t) {
        const auto& [a, b, c] = hull.triangles[t];
        const Vec3& p = hull.vertices[static_cast<std::size_t>(a)];
        return Vec3((hull.vertices[static_cast<std::size_t>(b)] - p)
                        .cross(hull.vertices[static_cast<std::size_t>(c)] - p)
                        .normalized());
    };
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const Vec3 n = normal(t);
        for (std::size_t k = 0; k < 3; ++k) {
            const auto v = static_cast<std::size_t>(hull.triangles[t][k]);
            const auto w = static_cast<std::size_t>(hull.triangles[t][(k + 1) % 3]);
            const auto u = static_cast<std::size_t>(hull.triangles[t][(k + 2) % 3]);
            const Vec3 p = hull.vertices[w] - hull.vertices[v];
            const Vec3 q = hull.vertices[u] - hull.vertices[v];
            s.normal[v] += std::atan2(p.cross(q).norm(), p.dot(q)) * n;  // weighted by the angle
            s.edge_sum[v] += p.norm();
            s.edge_sum[w] += p.norm();
            ++s.edges[v];
            ++s.edges[w];
            const std::int32_t other = topology.across[t][k];
            if (other >= 0 && n.dot(normal(static_cast<std::size_t>(other))) < crease) {
                s.on_crease[v] = s.on_crease[w] = true;
            }
        }
    }
    for (Vec3& n : s.normal) n.normalize();
    return s;
}

/// Normal curvature along each edge from the normals at its ends; edges far shorter than those
/// about them that hardly bulge belong to slivers and say nothing.
Extremes of_edges(const Hull& hull) {
    constexpr double least_share = 0.1;  // of the mean edge length about an edge
    Extremes extremes;
    const Topology topology = find_neighbours(hull.triangles, hull.vertices.size()).topology;
    const SmoothVertices s = smooth_vertices(hull, topology);
    for (const auto& t : hull.triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto a = static_cast<std::size_t>(t[k]);
            const auto b = static_cast<std::size_t>(t[(k + 1) % 3]);
            if (a > b || s.on_crease[a] || s.on_crease[b]) continue;
            const Vec3 d = hull.vertices[b] - hull.vertices[a];
            const double mean = (s.edge_sum[a] + s.edge_sum[b]) / (s.edges[a] + s.edges[b]);
            const double turn = (s.normal[b] - s.normal[a]).dot(d) / d.norm();
            const double bulge = d.norm() * std::abs(turn) / 8.0;  // of the arc over its chord
            if (!(d.norm() > least_share * mean || bulge > tolerance::mesh_bulge)) continue;
            extremes.add(turn / d.norm(), 0.5 * (hull.vertices[a] + hull.vertices[b]));
        }
    }
    return extremes;
}

}  // namespace

void find_smallest_radii(Hull& hull) {
    const Extremes extremes = hull.cad ? of_faces(hull) : of_edges(hull);
    HullReport& report = hull.report;
    const auto radius = [](double curvature) {
        return curvature > 1.0 / tolerance::largest_radius ? 1.0 / curvature : 0.0;
    };
    report.smallest_convex_radius = radius(extremes.convex);
    report.smallest_convex_at = extremes.convex_at;
    report.smallest_concave_radius = radius(extremes.concave);
    report.smallest_concave_at = extremes.concave_at;
}

}  // namespace tearline::hull

#include "core/hull/mirror_half.h"

#include <Eigen/Geometry>
#include <algorithm>

#include "core/base/tolerances.h"
#include "core/hull/cad_faces.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

double height(const CentrelinePlane& plane, const Vec3& p) {
    return plane.normal.dot(p) - plane.offset;
}

bool lies_in(const CentrelinePlane& plane, const Vec3& p) {
    return std::abs(height(plane, p)) <= tolerance::centreline;
}

/// Calls `use(from, to, triangle)` for every open edge.
template <class Use>
void for_open_edges(const Hull& hull, const Topology& topology, Use use) {
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (topology.across[t][k] < 0)
                use(hull.triangles[t][k], hull.triangles[t][(k + 1) % 3], t);
        }
    }
}

const Vec3& at(const Hull& hull, std::int32_t v) {
    return hull.vertices[static_cast<std::size_t>(v)];
}

/// Whether a triangle runs into planes of a normal at an angle, and not along them: at a straight
/// sheer over wall sides the hull lies in such a plane and has no other half.
bool meets(const Hull& hull, std::size_t triangle, const Vec3& normal) {
    const auto& t = hull.triangles[triangle];
    const Vec3 n = (at(hull, t[1]) - at(hull, t[0])).cross(at(hull, t[2]) - at(hull, t[0]));
    return n.cross(normal).norm() > tolerance::centreline_sine * n.norm();
}

/// Puts the vertices of open edges in the plane exactly on it; per vertex, whether it was one.
std::vector<bool> put_on_plane(Hull& hull, const Topology& topology, const CentrelinePlane& plane) {
    std::vector<bool> shared(hull.vertices.size(), false);
    for_open_edges(hull, topology, [&](std::int32_t from, std::int32_t to, std::size_t) {
        if (!lies_in(plane, at(hull, from)) || !lies_in(plane, at(hull, to))) return;
        shared[static_cast<std::size_t>(from)] = shared[static_cast<std::size_t>(to)] = true;
    });
    for (std::size_t v = 0; v < shared.size(); ++v) {
        if (shared[v]) hull.vertices[v] -= height(plane, hull.vertices[v]) * plane.normal;
    }
    return shared;
}

void mirror_edges(Hull& hull, const std::vector<std::int32_t>& image, std::int32_t edges) {
    const std::size_t own = hull.cad_edges.size();
    for (std::size_t i = 0; i < own; ++i) {
        EdgeOnCad e = hull.cad_edges[i];
        const std::int32_t from = image[static_cast<std::size_t>(e.from)];
        const std::int32_t to = image[static_cast<std::size_t>(e.to)];
        if (from == e.from && to == e.to) continue;  // on the plane: one edge for both halves
        e.from = from;
        e.to = to;
        e.edge.value += edges;
        if (e.from > e.to) {
            std::swap(e.from, e.to);
            std::swap(e.parameter_from, e.parameter_to);
        }
        hull.cad_edges.push_back(e);
    }
    std::sort(hull.cad_edges.begin(), hull.cad_edges.end(),
              [](const EdgeOnCad& a, const EdgeOnCad& b) {
                  return std::pair(a.from, a.to) < std::pair(b.from, b.to);
              });
}

}  // namespace

std::vector<CentrelinePlane> find_centrelines(const Hull& hull, const Topology& topology,
                                              const job::HullOptions& options) {
    const Vec3 normal = options.bow.cross(options.up).normalized();
    double low = normal.dot(hull.vertices.front()), high = low, open = 0.0;
    for (const Vec3& v : hull.vertices) {
        low = std::min(low, normal.dot(v));
        high = std::max(high, normal.dot(v));
    }
    std::vector<CentrelinePlane> result;
    if (high - low <= 2.0 * tolerance::centreline) return result;  // flat: it has no other half
    const std::array<CentrelinePlane, 2> sides{{{normal, low}, {normal, high}}};
    std::array<double, 2> inside{0.0, 0.0}, height{0.0, 0.0};
    const bool asked_for = options.mirror.value_or(false);
    for_open_edges(hull, topology, [&](std::int32_t from, std::int32_t to, std::size_t t) {
        const double length = (at(hull, from) - at(hull, to)).norm();
        open += length;
        if (!asked_for && !meets(hull, t, normal)) return;
        for (std::size_t s = 0; s < 2; ++s) {
            if (lies_in(sides[s], at(hull, from)) && lies_in(sides[s], at(hull, to))) {
                inside[s] += length;
                height[s] += length * options.up.dot(at(hull, from) + at(hull, to)) / 2.0;
            }
        }
    });
    // A keel and a sheer that is straight in plan may both qualify: the keel is the lower one.
    const bool alike = std::min(inside[0], inside[1]) >=
                       tolerance::centreline_alike * std::max(inside[0], inside[1]);
    const bool second =
        alike ? height[1] * inside[0] < height[0] * inside[1] : inside[1] > inside[0];
    const std::size_t first = second ? 1 : 0;
    for (const std::size_t s : {first, 1 - first}) {
        if (open > 0.0 && inside[s] >= tolerance::centreline_share * open) {
            result.push_back(sides[s]);
        }
    }
    return result;
}

void mirror_half(Hull& hull, const Topology& topology, const CentrelinePlane& plane) {
    const std::vector<bool> shared = put_on_plane(hull, topology, plane);
    const MirrorPlane mirror{plane.normal, plane.offset};
    std::vector<std::int32_t> image(hull.vertices.size());
    const std::size_t vertices = hull.vertices.size(), triangles = hull.triangles.size();
    for (std::size_t v = 0; v < vertices; ++v) {
        image[v] = static_cast<std::int32_t>(shared[v] ? v : hull.vertices.size());
        if (!shared[v]) hull.vertices.push_back(reflected(mirror, Vec3(hull.vertices[v])));
    }
    const auto faces = static_cast<std::int32_t>(hull.report.faces);
    for (std::size_t t = 0; t < triangles; ++t) {
        const auto [a, b, c] = hull.triangles[t];
        hull.triangles.push_back({image[static_cast<std::size_t>(a)],
                                  image[static_cast<std::size_t>(c)],
                                  image[static_cast<std::size_t>(b)]});
        if (!hull.cad) continue;
        hull.face.emplace_back(hull.face[t].value + faces);
        const std::array<Vec2, 3> uv = hull.corner_uv[t];
        hull.corner_uv.push_back({uv[0], uv[2], uv[1]});
    }
    if (hull.cad) mirror_edges(hull, image, hull.cad_edge_count);
}

}  // namespace tearline::hull

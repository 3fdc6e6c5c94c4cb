#include "core/hull/orient.h"

#include <Eigen/Geometry>
#include <cmath>

#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

/// Middle of all boundary edges, weighted by length.
Vec3 boundary_centroid(const std::vector<Vec3>& vertices, const Part& part) {
    Vec3 sum = Vec3::Zero();
    double length = 0.0;
    for (const auto& loop : part.loops) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec3& a = vertices[static_cast<std::size_t>(loop[i])];
            const Vec3& b = vertices[static_cast<std::size_t>(loop[(i + 1) % loop.size()])];
            const double l = (a - b).norm();
            sum += 0.5 * l * (a + b);
            length += l;
        }
    }
    return length > 0.0 ? Vec3(sum / length) : sum;
}

}  // namespace

std::vector<Part> measure_parts(const std::vector<Vec3>& vertices, const Triangles& triangles,
                                const Topology& topology) {
    std::vector<Part> parts(static_cast<std::size_t>(topology.components));
    std::vector<Vec3> apex(parts.size(), Vec3::Zero());
    std::vector<std::size_t> part_of_vertex(vertices.size(), 0);
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        const auto p = static_cast<std::size_t>(topology.component[t]);
        for (const std::int32_t v : triangles[t]) part_of_vertex[static_cast<std::size_t>(v)] = p;
        apex[p] = vertices[static_cast<std::size_t>(triangles[t][0])];
    }
    for (auto& loop : boundary_loops(triangles, topology)) {
        const std::size_t p = part_of_vertex[static_cast<std::size_t>(loop.front())];
        parts[p].loops.push_back(std::move(loop));
    }
    for (std::size_t p = 0; p < parts.size(); ++p) {
        if (!parts[p].closed()) apex[p] = boundary_centroid(vertices, parts[p]);
    }
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        const auto p = static_cast<std::size_t>(topology.component[t]);
        const Vec3 a = vertices[static_cast<std::size_t>(triangles[t][0])] - apex[p];
        const Vec3 b = vertices[static_cast<std::size_t>(triangles[t][1])] - apex[p];
        const Vec3 c = vertices[static_cast<std::size_t>(triangles[t][2])] - apex[p];
        const Vec3 n = (b - a).cross(c - a);
        parts[p].area += 0.5 * n.norm();
        parts[p].volume += n.dot(a) / 6.0;
    }
    return parts;
}

bool knows_outside(const Part& part) {
    if (part.closed()) return part.volume != 0.0;
    return std::abs(part.volume) >= tolerance::outside_volume * std::pow(part.area, 1.5);
}

}  // namespace tearline::hull

#include "core/flattening/membrane_start.h"

#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "core/flattening/sparse_factor.h"
#include "core/flattening/tolerances.h"

namespace tearline::flattening {

using surface::SurfaceMesh;

std::optional<Places> plane_start(const SurfaceMesh& mesh) {
    if (mesh.position.empty()) return std::nullopt;
    Vec3 mean = Vec3::Zero();
    double area = 0.0;
    for (const auto& v : mesh.triangle) {
        const Vec3 twice = (mesh.position[v[1]] - mesh.position[v[0]])
                               .cross(mesh.position[v[2]] - mesh.position[v[0]]);
        mean += twice;
        area += twice.norm();
    }
    if (!(mean.norm() > tolerance::facing_share * area)) return std::nullopt;
    const Vec3 n = mean.normalized();
    // The axis least along the normal, so that the frame depends on the mesh alone.
    Eigen::Index least = 0;
    n.cwiseAbs().minCoeff(&least);
    const Vec3 x = Vec3::Unit(least).cross(n).normalized();
    const Vec3 y = n.cross(x);
    const Vec3 origin = mesh.position.front();
    Places out(2, static_cast<Eigen::Index>(mesh.position.size()));
    for (Eigen::Index i = 0; i < out.cols(); ++i) {
        const Vec3 p = mesh.position[static_cast<std::size_t>(i)] - origin;
        out.col(i) = Vec2(p.dot(x), p.dot(y));
    }
    return out;
}

namespace {

struct Rim {
    std::vector<std::vector<std::int32_t>> holes;
    std::vector<std::int32_t> outer;
};

/// The loop with the most vertices is taken for the outer one: any choice gives a valid start.
std::optional<Rim> rim_of(const SurfaceMesh& mesh) {
    Rim rim;
    rim.holes = surface::boundary_loops(mesh);
    if (rim.holes.empty()) return std::nullopt;
    std::size_t longest = 0;
    for (std::size_t i = 1; i < rim.holes.size(); ++i)
        if (rim.holes[i].size() > rim.holes[longest].size()) longest = i;
    rim.outer = std::move(rim.holes[longest]);
    rim.holes.erase(rim.holes.begin() + static_cast<std::ptrdiff_t>(longest));
    return rim;
}

/// Each undirected edge once or twice: weights only scale, positive is all that counts.
std::vector<std::pair<std::int32_t, std::int32_t>> spokes(const SurfaceMesh& mesh, const Rim& rim,
                                                          std::int32_t vertex_count) {
    std::vector<std::pair<std::int32_t, std::int32_t>> out;
    out.reserve(3 * mesh.triangle.size());
    for (const auto& v : mesh.triangle)
        for (std::size_t i = 0; i < 3; ++i) out.emplace_back(v[i], v[(i + 1) % 3]);
    for (std::size_t h = 0; h < rim.holes.size(); ++h)
        for (const std::int32_t v : rim.holes[h])
            out.emplace_back(vertex_count + static_cast<std::int32_t>(h), v);
    return out;
}

}  // namespace

std::optional<Places> circle_start(const SurfaceMesh& mesh, double area) {
    const auto rim = rim_of(mesh);
    if (!rim) return std::nullopt;
    std::int32_t count = 0;
    for (const auto& v : mesh.triangle)
        for (const std::int32_t i : v) count = std::max(count, i + 1);
    const auto all =
        static_cast<Eigen::Index>(count) + static_cast<Eigen::Index>(rim->holes.size());

    Places places = Places::Zero(2, all);
    std::vector<bool> held(static_cast<std::size_t>(all), false);
    const double radius = std::sqrt(area / std::numbers::pi);
    for (std::size_t i = 0; i < rim->outer.size(); ++i) {
        const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) /
                            static_cast<double>(rim->outer.size());
        places.col(rim->outer[i]) = radius * Vec2(std::cos(turn), std::sin(turn));
        held[static_cast<std::size_t>(rim->outer[i])] = true;
    }
    std::vector<Eigen::Triplet<double>> entries;
    Places right = Places::Zero(2, all);
    const auto pull = [&](std::int32_t on, std::int32_t from) {
        if (held[static_cast<std::size_t>(on)]) return;
        entries.emplace_back(on, on, 1.0);
        if (held[static_cast<std::size_t>(from)])
            right.col(on) += places.col(from);
        else if (on > from)
            entries.emplace_back(on, from, -1.0);
    };
    for (const auto& [a, b] : spokes(mesh, *rim, count)) {
        pull(a, b);
        pull(b, a);
    }
    for (Eigen::Index i = 0; i < all; ++i)
        if (held[static_cast<std::size_t>(i)]) {
            entries.emplace_back(i, i, 1.0);
            right.col(i) = places.col(i);
        }
    Eigen::SparseMatrix<double> lower(all, all);
    lower.setFromTriplets(entries.begin(), entries.end());
    SparseFactor factor;
    if (!factor.compute(lower)) return std::nullopt;
    factor.solve(right, places);
    return Places(places.leftCols(count));
}

}  // namespace tearline::flattening

#pragma once
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include "core/surface/surface_mesh.h"

/// Lays a developable mesh flat triangle by triangle, by its edge lengths alone.
namespace tearline::test {

struct Unrolled {
    std::vector<Vec2> flat;   ///< [mm] per vertex
    double mismatch = 0.0;    ///< [mm] most that two ways to a vertex differ: zero when developable
    std::size_t reached = 0;  ///< triangles laid: all of a connected mesh
};

inline Unrolled unroll(const surface::SurfaceMesh& mesh) {
    const auto across = surface::neighbours(mesh);
    Unrolled out;
    out.flat.resize(mesh.position.size(), Vec2(0, 0));
    std::vector<bool> known(mesh.position.size(), false);
    std::vector<bool> seen(mesh.triangle.size(), false);
    std::vector<std::int32_t> queue{0};
    const auto& first = mesh.triangle[0];
    out.flat[first[1]] = {mesh.edge_length[0][0], 0.0};
    known[first[0]] = known[first[1]] = true;
    seen[0] = true;
    for (std::size_t next = 0; next < queue.size(); ++next) {
        const std::int32_t t = queue[next];
        const auto& v = mesh.triangle[t];
        int i = 0;  // the edge both of whose ends are known, when the third is not
        for (int k = 0; k < 3; ++k)
            if (!known[v[(k + 2) % 3]]) i = k;
        const Vec2 a = out.flat[v[i]];
        const Vec2 x = (out.flat[v[(i + 1) % 3]] - a).normalized();
        const double c = mesh.edge_length[t][i];
        const double r = mesh.edge_length[t][(i + 2) % 3];
        const double q = mesh.edge_length[t][(i + 1) % 3];
        const double along = (r * r + c * c - q * q) / (2.0 * c);
        const Vec2 third =
            a + along * x + std::sqrt(std::max(0.0, r * r - along * along)) * turned_left(x);
        const std::int32_t w = v[(i + 2) % 3];
        if (known[w]) out.mismatch = std::max(out.mismatch, (third - out.flat[w]).norm());
        out.flat[w] = third;
        known[w] = true;
        for (int k = 0; k < 3; ++k) {
            const std::int32_t n = across[t][k];
            if (n < 0 || seen[n]) continue;
            seen[n] = true;
            queue.push_back(n);
        }
    }
    out.reached = queue.size();
    return out;
}

}  // namespace tearline::test

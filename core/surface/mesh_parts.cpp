#include "core/surface/mesh_parts.h"

#include <algorithm>
#include <numeric>

#include "core/surface/across.h"

namespace tearline::surface {

namespace {

std::vector<std::int32_t> parts_of(Across across) {
    std::vector<std::int32_t> part(across.size(), -1);
    std::int32_t count = 0;
    for (std::size_t start = 0; start < part.size(); ++start) {
        if (part[start] >= 0) continue;
        part[start] = count;
        std::vector<std::int32_t> stack{static_cast<std::int32_t>(start)};
        while (!stack.empty()) {
            const std::int32_t t = stack.back();
            stack.pop_back();
            for (const std::int32_t n : across[t])
                if (n >= 0 && part[n] < 0) {
                    part[n] = count;
                    stack.push_back(n);
                }
        }
        ++count;
    }
    return part;
}

}  // namespace

std::vector<std::int32_t> mesh_parts(const SurfaceMesh& mesh) {
    return parts_of(neighbours(mesh));
}

std::size_t count_parts(const SurfaceMesh& mesh) {
    return count_parts(neighbours(mesh));
}

std::size_t count_parts(Across across) {
    const auto part = parts_of(across);
    return part.empty() ? 0
                        : 1 + static_cast<std::size_t>(*std::max_element(part.begin(), part.end()));
}

std::vector<std::int32_t> part_pinched_vertices(SurfaceMesh& mesh) {
    return part_pinched_vertices(mesh, neighbours(mesh));
}

std::vector<std::int32_t> part_pinched_vertices(SurfaceMesh& mesh, Across across) {
    std::vector<std::int32_t> before(mesh.position.size());
    std::iota(before.begin(), before.end(), 0);
    std::vector<bool> taken(mesh.position.size(), false);
    std::vector<std::array<bool, 3>> seen(mesh.triangle.size(), {false, false, false});
    for (std::size_t start = 0; start < mesh.triangle.size(); ++start)
        for (int k = 0; k < 3; ++k) {
            if (seen[start][k]) continue;
            const std::int32_t v = mesh.triangle[start][k];
            std::int32_t name = v;
            if (taken[v]) {
                name = static_cast<std::int32_t>(mesh.position.size());
                const Vec3 copy = mesh.position[v];
                mesh.position.push_back(copy);
                before.push_back(v);
            }
            taken[v] = true;
            // Every corner of this fan: over the two edges of each triangle that end in v.
            std::vector<std::array<std::int32_t, 2>> stack{{static_cast<std::int32_t>(start), k}};
            seen[start][k] = true;
            while (!stack.empty()) {
                const auto [t, i] = stack.back();
                stack.pop_back();
                for (const std::int32_t n : {across[t][i], across[t][(i + 2) % 3]}) {
                    if (n < 0) continue;
                    for (int j = 0; j < 3; ++j)
                        if (mesh.triangle[n][j] == v && !seen[n][j]) {
                            seen[n][j] = true;
                            stack.push_back({n, j});
                        }
                }
                mesh.triangle[t][i] = name;
            }
        }
    return before;
}

}  // namespace tearline::surface

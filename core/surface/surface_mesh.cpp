#include "core/surface/surface_mesh.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/surface/across.h"
#include "core/surface/tolerances.h"

namespace tearline::surface {
namespace {

/// half / sin(half), which is 1 at 0.
double arc_over_chord(double half) {
    const double x = half * half;
    // The series leaves out 127 half^8 / 604800: nothing that a double shows this near to 0.
    if (x < tolerance::series_angle * tolerance::series_angle)
        return 1.0 + x * (1.0 / 6.0 + x * (7.0 / 360.0 + x * (31.0 / 15120.0)));
    return half / std::sin(half);
}

}  // namespace

double arc_length(const Vec3& a, const Vec3& b, const Vec3& normal_a, const Vec3& normal_b) {
    const Vec3 chord = b - a;
    const double c = chord.norm();
    if (!(c > 0.0)) return 0.0;
    const Vec3 t = chord / c;
    // The turn of the normals in the plane of chord and mean normal: the difference of the two
    // angles between normal and chord.
    const double sine_a = std::clamp(normal_a.dot(t), -1.0, 1.0);
    const double sine_b = std::clamp(normal_b.dot(t), -1.0, 1.0);
    const Vec3 mean = normal_a + normal_b;
    const Vec3 up = (mean - mean.dot(t) * t);
    const double up_norm = up.norm();
    if (!(up_norm > 0.0)) return c;
    const Vec3 u = up / up_norm;
    const double cosine_a = normal_a.dot(u);
    const double cosine_b = normal_b.dot(u);
    const double f =
        std::atan2(sine_b * cosine_a - cosine_b * sine_a, cosine_b * cosine_a + sine_b * sine_a);
    return c * arc_over_chord(0.5 * f);
}

std::vector<std::array<std::int32_t, 3>> neighbours(const SurfaceMesh& mesh) {
    // Edges by the vertex they leave: a mesh vertex has few. Counted from the triangles, because
    // an intrinsic mesh has lengths and no positions.
    std::int32_t vertices = 0;
    for (const auto& t : mesh.triangle)
        for (const std::int32_t v : t) vertices = std::max(vertices, v + 1);
    std::vector<std::int32_t> first(static_cast<std::size_t>(vertices) + 1, 0);
    for (const auto& t : mesh.triangle)
        for (const std::int32_t v : t) ++first[v + 1];
    for (std::int32_t v = 0; v < vertices; ++v) first[v + 1] += first[v];
    struct Leaving {
        std::int32_t to, corner;  ///< 3 a triangle
    };
    std::vector<Leaving> leaving(first.back());
    std::vector<std::int32_t> fill(first.begin(), first.end() - 1);
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            leaving[fill[mesh.triangle[t][i]]++] = {mesh.triangle[t][(i + 1) % 3],
                                                    static_cast<std::int32_t>(3 * t + i)};
    std::vector<std::array<std::int32_t, 3>> out(mesh.triangle.size(), {-1, -1, -1});
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (out[t][i] >= 0) continue;
            const std::int32_t to = mesh.triangle[t][(i + 1) % 3];
            for (std::int32_t k = first[to]; k < first[to + 1]; ++k) {
                if (leaving[k].to != mesh.triangle[t][i]) continue;
                // Found from both sides at once: of several that leave alike, the first is met.
                const std::int32_t n = leaving[k].corner / 3;
                std::int32_t& back = out[n][leaving[k].corner % 3];
                if (back < 0) back = static_cast<std::int32_t>(t);
                out[t][i] = n;
                break;
            }
        }
    return out;
}

void set_arc_lengths(SurfaceMesh& mesh) {
    set_arc_lengths(mesh, neighbours(mesh));
}

void set_arc_lengths(SurfaceMesh& mesh, Across across) {
    const auto arc = [&](std::size_t t, int i) {
        const auto& v = mesh.triangle[t];
        const int j = (i + 1) % 3;
        return arc_length(mesh.position[v[i]], mesh.position[v[j]], mesh.corner_normal[t][i],
                          mesh.corner_normal[t][j]);
    };
    mesh.edge_length.resize(mesh.triangle.size());
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = across[t][i];
            if (n < 0) mesh.edge_length[t][i] = arc(t, i);
            if (n < static_cast<std::int32_t>(t)) continue;
            const auto& v = mesh.triangle[n];
            int k = 0;
            while (v[k] != mesh.triangle[t][(i + 1) % 3] || v[(k + 1) % 3] != mesh.triangle[t][i])
                ++k;
            const auto& here = mesh.corner_normal[t];
            const auto& there = mesh.corner_normal[n];
            double length = arc(t, i);
            if (here[i] != there[(k + 1) % 3] || here[(i + 1) % 3] != there[k])
                length = 0.5 * (length + arc(static_cast<std::size_t>(n), k));
            mesh.edge_length[t][i] = mesh.edge_length[n][k] = length;
        }
}

std::vector<std::vector<std::int32_t>> boundary_loops(const SurfaceMesh& mesh) {
    const auto across = neighbours(mesh);
    std::int32_t vertices = 0;
    for (const auto& t : mesh.triangle)
        for (const std::int32_t v : t) vertices = std::max(vertices, v + 1);
    constexpr std::int32_t none = -1;
    std::vector<std::int32_t> next(static_cast<std::size_t>(vertices), none);
    std::vector<std::int32_t> order;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (across[t][i] < 0) {
                next[mesh.triangle[t][i]] = mesh.triangle[t][(i + 1) % 3];
                order.push_back(mesh.triangle[t][i]);
            }
    std::vector<std::vector<std::int32_t>> loops;
    for (const std::int32_t start : order) {
        if (next[start] == none) continue;
        std::vector<std::int32_t> loop;
        for (std::int32_t v = start; next[v] != none;) {
            loop.push_back(v);
            v = std::exchange(next[v], none);
        }
        loops.push_back(std::move(loop));
    }
    return loops;
}

}  // namespace tearline::surface

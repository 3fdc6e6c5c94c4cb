#include "core/plies/relax_mesh.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "core/plies/tolerances.h"

namespace tearline::plies {
namespace {

double twice_area(const Vec2& a, const Vec2& b, const Vec2& c) {
    return cross2(b - a, c - a);
}

int corner_across(const plane::PlaneMesh& mesh, std::int32_t t, std::int32_t from) {
    for (int k = 0; k < 3; ++k)
        if (mesh.neighbour[t][k] == from) return k;
    return -1;
}

void set_neighbour(plane::PlaneMesh& mesh, std::int32_t t, std::int32_t old, std::int32_t now) {
    if (t < 0) return;
    const int k = corner_across(mesh, t, old);
    mesh.neighbour[t][k] = now;
}

/// Whether the edge's two opposite angles sum to more than a half turn.
bool wants_flip(const Vec2& a, const Vec2& b, const Vec2& left, const Vec2& right) {
    const auto cotangent_parts = [](const Vec2& u, const Vec2& v) {
        return Vec2(u.dot(v), cross2(u, v));
    };
    const Vec2 l = cotangent_parts(a - left, b - left);
    const Vec2 r = cotangent_parts(b - right, a - right);
    const double sine = l.y() * r.x() + l.x() * r.y();
    return sine < -tolerance::flip_gain * std::sqrt(l.squaredNorm() * r.squaredNorm());
}

bool try_flip(plane::PlaneMesh& mesh, std::int32_t t, int i) {
    const std::int32_t n = mesh.neighbour[t][i];
    if (n < 0 || mesh.kind[t][i] != plane::EdgeKind::free) return false;
    const int k = corner_across(mesh, n, t);
    const std::int32_t a = mesh.triangle[t][i], b = mesh.triangle[t][(i + 1) % 3];
    const std::int32_t l = mesh.triangle[t][(i + 2) % 3], r = mesh.triangle[n][(k + 2) % 3];
    const auto& p = mesh.points;
    if (!wants_flip(p[a], p[b], p[l], p[r])) return false;
    if (!(twice_area(p[r], p[l], p[a]) > 0.0) || !(twice_area(p[l], p[r], p[b]) > 0.0))
        return false;
    // t = (a, b, l), n = (b, a, r)  ->  t = (r, l, a), n = (l, r, b).
    const auto kind_t = mesh.kind[t], kind_n = mesh.kind[n];
    const auto next_t = mesh.neighbour[t], next_n = mesh.neighbour[n];
    const int i1 = (i + 1) % 3, i2 = (i + 2) % 3, k1 = (k + 1) % 3, k2 = (k + 2) % 3;
    mesh.triangle[t] = {r, l, a};
    mesh.neighbour[t] = {n, next_t[i2], next_n[k1]};
    mesh.kind[t] = {plane::EdgeKind::free, kind_t[i2], kind_n[k1]};
    mesh.triangle[n] = {l, r, b};
    mesh.neighbour[n] = {t, next_n[k2], next_t[i1]};
    mesh.kind[n] = {plane::EdgeKind::free, kind_n[k2], kind_t[i1]};
    set_neighbour(mesh, next_n[k1], n, t);
    set_neighbour(mesh, next_t[i1], t, n);
    return true;
}

void flip_to_delaunay(plane::PlaneMesh& mesh) {
    std::vector<std::int32_t> work(mesh.triangle.size());
    for (std::size_t t = 0; t < work.size(); ++t) work[t] = static_cast<std::int32_t>(t);
    std::size_t budget = 20 * mesh.triangle.size();
    while (!work.empty() && budget-- > 0) {
        const std::int32_t t = work.back();
        work.pop_back();
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = mesh.neighbour[t][i];
            if (!try_flip(mesh, t, i)) continue;
            work.push_back(t);
            work.push_back(n);
            break;
        }
    }
}

/// Corners of triangles about each vertex, packed.
struct Fans {
    struct Corner {
        std::int32_t triangle;
        int place;  ///< of the vertex in it
    };
    std::vector<std::int32_t> start;
    std::vector<Corner> corner;

    explicit Fans(const plane::PlaneMesh& mesh) : start(mesh.points.size() + 1, 0) {
        for (const auto& t : mesh.triangle)
            for (const std::int32_t v : t) ++start[v + 1];
        for (std::size_t v = 1; v < start.size(); ++v) start[v] += start[v - 1];
        corner.resize(mesh.triangle.size() * 3);
        std::vector<std::int32_t> at(start.begin(), start.end() - 1);
        for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
            for (int k = 0; k < 3; ++k)
                corner[at[mesh.triangle[t][k]]++] = {static_cast<std::int32_t>(t), k};
    }

    [[nodiscard]] std::span<const Corner> about(std::size_t v) const {
        return {corner.data() + start[v], corner.data() + start[v + 1]};
    }
};

void smooth(plane::PlaneMesh& mesh) {
    const Fans fans(mesh);
    std::vector<std::array<Vec2, 3>> places;  // of the corners of each triangle of a fan
    for (std::size_t v = mesh.fixed; v < mesh.points.size(); ++v) {
        const auto fan = fans.about(v);
        places.resize(fan.size());
        Vec2 sum = Vec2::Zero();
        const auto smallest_with = [&](const Vec2& middle) {
            double smallest = std::numeric_limits<double>::infinity();
            for (std::size_t k = 0; k < fan.size(); ++k) {
                auto& p = places[k];
                p[fan[k].place] = middle;
                smallest = std::min(smallest, twice_area(p[0], p[1], p[2]));
            }
            return smallest;
        };
        for (std::size_t k = 0; k < fan.size(); ++k) {
            const auto& c = mesh.triangle[fan[k].triangle];
            for (int i = 0; i < 3; ++i) {
                places[k][i] = mesh.points[c[i]];
                if (i != fan[k].place) sum += places[k][i];
            }
        }
        const double before = smallest_with(mesh.points[v]);
        const Vec2 moved = sum / (2.0 * static_cast<double>(fan.size()));
        // A step that squeezes the tightest triangle badly is left out.
        if (smallest_with(moved) > 0.5 * before) mesh.points[v] = moved;
    }
}

}  // namespace

void relax_mesh(plane::PlaneMesh& mesh, int sweeps) {
    for (int sweep = 0; sweep < sweeps; ++sweep) {
        smooth(mesh);
        flip_to_delaunay(mesh);
    }
}

}  // namespace tearline::plies

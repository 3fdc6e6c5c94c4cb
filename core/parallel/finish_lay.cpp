#include <Eigen/Geometry>
#include <algorithm>
#include <optional>
#include <vector>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/parallel/lay_draft.h"
#include "core/parallel/tolerances.h"
#include "core/surface/across.h"

namespace tearline::parallel {
namespace {

/// Leaves out the vertices that no triangle uses.
void drop_unused(ParallelSurface& out) {
    std::vector<std::int32_t> renumbered(out.base.size(), -1);
    std::int32_t count = 0;
    for (const auto& v : out.mesh.triangle)
        for (const std::int32_t k : v) renumbered[k] = 0;
    for (std::size_t v = 0; v < renumbered.size(); ++v) {
        if (renumbered[v] < 0) continue;
        out.mesh.position[count] = out.mesh.position[v];
        out.base[count] = out.base[v];
        out.chart[count] = out.chart[v];
        renumbered[v] = count++;
    }
    out.mesh.position.resize(count);
    out.base.resize(count);
    out.chart.resize(count);
    for (auto& v : out.mesh.triangle)
        for (std::int32_t& k : v) k = renumbered[k];
}

void part_pinched(ParallelSurface& out) {
    out.across = surface::neighbours(out.mesh);
    const auto before = surface::part_pinched_vertices(out.mesh, out.across);
    if (before.size() > out.base.size()) out.across = surface::neighbours(out.mesh);
    for (std::size_t v = out.base.size(); v < before.size(); ++v) {
        const Vec3 base = out.base[before[v]];
        const Vec2 chart = out.chart[before[v]];
        out.base.push_back(base);
        out.chart.push_back(chart);
    }
}

/// Where the depth varies, normals lean by its gradient over the parallel surface: the normal
/// of p - d n is along n + grad d (derived; grad taken on the surface at constant depth).
void tilt_normals(const DepthAtChart& depth, ParallelSurface& out) {
    // Corners round a vertex mostly lie where it does: its depth is asked for once.
    std::vector<std::optional<double>> at_vertex(out.base.size());
    const auto depth_at = [&](std::int32_t v, const Vec2& chart) {
        if (chart != out.chart[v]) return depth(chart);
        if (!at_vertex[v]) at_vertex[v] = depth(chart);
        return *at_vertex[v];
    };
    for (std::size_t t = 0; t < out.mesh.triangle.size(); ++t) {
        const auto& v = out.mesh.triangle[t];
        auto& n = out.mesh.corner_normal[t];
        std::array<double, 3> d{};
        for (int k = 0; k < 3; ++k) d[k] = depth_at(v[k], out.corner_chart[t][k]);
        if (d[0] == d[1] && d[1] == d[2]) continue;
        const double mean = (d[0] + d[1] + d[2]) / 3.0;
        std::array<Vec3, 3> p;
        for (int k = 0; k < 3; ++k) p[k] = out.mesh.position[v[k]] + (d[k] - mean) * n[k];
        const Vec3 square = (p[1] - p[0]).cross(p[2] - p[0]);
        if (!(square.squaredNorm() > 0.0)) continue;
        Vec3 gradient(0, 0, 0);
        for (int k = 0; k < 3; ++k)
            gradient += d[k] * square.cross(p[(k + 2) % 3] - p[(k + 1) % 3]);
        gradient /= square.squaredNorm();
        for (Vec3& m : n) m = (m + gradient - gradient.dot(m) * m).normalized();
    }
}

/// Which way a triangle faces; nothing where it has no area to speak of.
std::optional<Vec3> facing(const std::vector<Vec3>& place, const std::array<std::int32_t, 3>& v) {
    const Vec3 &a = place[v[0]], &b = place[v[1]], &c = place[v[2]];
    const Vec3 square = (b - a).cross(c - a);
    const double longest = std::max({(b - a).norm(), (c - b).norm(), (a - c).norm()});
    const double area = square.norm();
    if (!(area > tolerance::sliver_height * longest * longest)) return std::nullopt;
    return square / area;
}

/// Refuses the first triangle that lies upside down at depth. An ear of the rim stands nearly on
/// edge on the base surface already, as high as its long edge's chord stands off the bend: it has
/// folded where less is left of that.
Result<void> check_fold(const ParallelSurface& out) {
    for (std::size_t t = 0; t < out.mesh.triangle.size(); ++t) {
        const auto& v = out.mesh.triangle[t];
        const auto at_depth = facing(out.mesh.position, v);
        if (!at_depth) continue;
        const auto& n = out.mesh.corner_normal[t];
        const Vec3 normal = (n[0] + n[1] + n[2]).normalized();
        const auto before = facing(out.base, v);
        const double stood = before ? std::clamp(before->dot(normal), 0.0, 1.0) : 1.0;
        if (at_depth->dot(normal) > tolerance::fold_cosine * stood) continue;
        const Vec3 p = (out.base[v[0]] + out.base[v[1]] + out.base[v[2]]) / 3.0;
        return no_safe_answer("the surface folds over itself at the ply's depth near (" +
                                  fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " +
                                  fixed(p.z(), 1) +
                                  ") mm: the hull's radius there is smaller than the depth, or "
                                  "creases lie too close together; make the repair shallower, "
                                  "or ease the place",
                              p);
    }
    return {};
}

/// Edges whose two triangles belong to different sheets.
void mark_creases(LayDraft& draft) {
    ParallelSurface& out = draft.out;
    const auto& across = out.across;
    out.crease.resize(out.mesh.triangle.size(), {false, false, false});
    for (std::size_t t = 0; t < out.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = across[t][i];
            if (n < 0 || out.arc[t] || out.arc[n]) continue;
            const auto shares = [&](CopyId copy) {
                const auto& other = draft.sheet_of[n];
                return std::find(other.begin(), other.end(), copy) != other.end();
            };
            out.crease[t][i] =
                !shares(draft.sheet_of[t][i]) || !shares(draft.sheet_of[t][(i + 1) % 3]);
        }
}

}  // namespace

Result<ParallelSurface> finished(LayDraft draft, const DepthAtChart& depth) {
    drop_unused(draft.out);
    part_pinched(draft.out);
    tilt_normals(depth, draft.out);
    if (const auto flat = check_fold(draft.out); !flat) return tl::unexpected(flat.error());
    mark_creases(draft);
    surface::set_arc_lengths(draft.out.mesh, draft.out.across);
    return std::move(draft.out);
}

}  // namespace tearline::parallel

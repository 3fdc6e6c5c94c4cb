#include "core/plane/without_slivers.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tearline::plane {

namespace {

double area_of(const PlaneMesh& mesh, const std::array<std::int32_t, 3>& corners) {
    const auto at = [&](std::size_t k) {
        return mesh.points[static_cast<std::size_t>(corners[k])];
    };
    const Vec2 a = at(1) - at(0), b = at(2) - at(0);
    return 0.5 * std::abs(a.x() * b.y() - a.y() * b.x());
}

/// The part each triangle hangs together with, and the area of each part.
struct Parts {
    std::vector<std::int32_t> of;
    std::vector<double> area;  ///< [mm2]
};

Parts parts_of(const PlaneMesh& mesh) {
    Parts parts;
    parts.of.assign(mesh.triangle.size(), -1);
    std::vector<std::size_t> queue;
    for (std::size_t start = 0; start < mesh.triangle.size(); ++start) {
        if (parts.of[start] >= 0) continue;
        const auto part = static_cast<std::int32_t>(parts.area.size());
        parts.area.push_back(0.0);
        parts.of[start] = part;
        queue.assign(1, start);
        while (!queue.empty()) {
            const std::size_t t = queue.back();
            queue.pop_back();
            parts.area.back() += area_of(mesh, mesh.triangle[t]);
            for (const std::int32_t n : mesh.neighbour[t]) {
                if (n < 0 || parts.of[static_cast<std::size_t>(n)] >= 0) continue;
                parts.of[static_cast<std::size_t>(n)] = part;
                queue.push_back(static_cast<std::size_t>(n));
            }
        }
    }
    return parts;
}

/// New numbers of what is kept, -1 of what is not.
std::vector<std::int32_t> renumbered(const std::vector<bool>& kept) {
    std::vector<std::int32_t> number(kept.size(), -1);
    std::int32_t next = 0;
    for (std::size_t i = 0; i < kept.size(); ++i)
        if (kept[i]) number[i] = next++;
    return number;
}

}  // namespace

PlaneMesh kept_triangles(const PlaneMesh& mesh, const std::vector<bool>& keep) {
    std::vector<bool> point(mesh.points.size(), false);
    for (std::size_t t = 0; t < keep.size(); ++t)
        if (keep[t])
            for (const std::int32_t corner : mesh.triangle[t])
                point[static_cast<std::size_t>(corner)] = true;
    const auto triangle_number = renumbered(keep), point_number = renumbered(point);
    PlaneMesh out;
    for (std::size_t p = 0; p < point.size(); ++p) {
        if (!point[p]) continue;
        out.points.push_back(mesh.points[p]);
        out.fixed += p < mesh.fixed;
    }
    for (std::size_t t = 0; t < keep.size(); ++t) {
        if (!keep[t]) continue;
        out.triangle.push_back(mesh.triangle[t]);
        out.neighbour.push_back(mesh.neighbour[t]);
        out.kind.push_back(mesh.kind[t]);
        for (std::int32_t& corner : out.triangle.back())
            corner = point_number[static_cast<std::size_t>(corner)];
        for (std::size_t i = 0; i < 3; ++i) {
            std::int32_t& n = out.neighbour.back()[i];
            if (n < 0) continue;
            n = triangle_number[static_cast<std::size_t>(n)];
            if (n < 0) out.kind.back()[i] = EdgeKind::outline;
        }
    }
    return out;
}

PlaneMesh without_slivers(PlaneMesh mesh, double largest) {
    const Parts parts = parts_of(mesh);
    if (parts.area.size() < 2) return mesh;
    std::vector<bool> keep;
    for (const std::int32_t part : parts.of)
        keep.push_back(parts.area[static_cast<std::size_t>(part)] > largest);
    return kept_triangles(mesh, keep);
}

}  // namespace tearline::plane

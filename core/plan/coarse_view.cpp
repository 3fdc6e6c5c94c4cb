#include "core/plan/coarse_view.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "core/hull/hull.h"

namespace tearline::plan {

namespace {

using Cell = std::array<std::int64_t, 3>;

HullView clustered(const hull::Hull& hull, double width) {
    HullView view;
    std::map<Cell, std::int32_t> vertex_of;
    std::vector<int> members;
    std::vector<std::int32_t> moved(hull.vertices.size());
    for (std::size_t v = 0; v < hull.vertices.size(); ++v) {
        const Vec3& p = hull.vertices[v];
        Cell cell;
        for (int k = 0; k < 3; ++k) cell[k] = static_cast<std::int64_t>(std::floor(p[k] / width));
        const auto [found, fresh] =
            vertex_of.try_emplace(cell, static_cast<std::int32_t>(view.far_vertices.size()));
        if (fresh) {
            view.far_vertices.emplace_back(0, 0, 0);
            members.push_back(0);
        }
        moved[v] = found->second;
        view.far_vertices[found->second] += p;
        ++members[found->second];
    }
    for (std::size_t v = 0; v < members.size(); ++v) view.far_vertices[v] /= members[v];

    std::set<std::array<std::int32_t, 3>> seen;
    for (const auto& t : hull.triangles) {
        std::array<std::int32_t, 3> kept{moved[t[0]], moved[t[1]], moved[t[2]]};
        if (kept[0] == kept[1] || kept[1] == kept[2] || kept[2] == kept[0]) continue;
        std::rotate(kept.begin(), std::min_element(kept.begin(), kept.end()), kept.end());
        if (seen.insert(kept).second) view.far_triangles.push_back(kept);
    }
    return view;
}

}  // namespace

HullView coarse_view(const hull::Hull& hull, std::size_t most_triangles) {
    if (hull.triangles.size() <= most_triangles) {
        HullView view;
        view.far_vertices = hull.vertices;
        view.far_triangles = hull.triangles;
        return view;
    }
    // A surface of area A meets about A / width^2 cells, with two triangles for each.
    double area = 0.0;
    for (const auto& t : hull.triangles)
        area += 0.5 * (hull.vertices[t[1]] - hull.vertices[t[0]])
                          .cross(hull.vertices[t[2]] - hull.vertices[t[0]])
                          .norm();
    double width = std::sqrt(2.0 * area / static_cast<double>(most_triangles));
    HullView view = clustered(hull, width);
    while (view.far_triangles.size() > most_triangles) {
        width *= 1.3;
        view = clustered(hull, width);
    }
    return view;
}

}  // namespace tearline::plan

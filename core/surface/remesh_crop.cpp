#include "core/surface/remesh_crop.h"

#include <limits>
#include <queue>
#include <utility>

namespace tearline::surface {

namespace {

void remove(RemeshMesh& mesh, std::int32_t t) {
    RemeshTriangle& gone = mesh.triangle[t];
    for (const std::int32_t n : gone.neighbour) {
        if (n < 0) continue;
        for (auto& back : mesh.triangle[n].neighbour)
            if (back == t) back = -1;
    }
    gone.neighbour = {-1, -1, -1};
    gone.vertex = {-1, -1, -1};
}

/// Drops the smaller fans at vertices where two parts only touch; whether there were any.
bool drop_pinches(RemeshMesh& mesh) {
    std::vector<std::vector<std::int32_t>> round(mesh.vertex.size());
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        if (mesh.triangle[t].alive())
            for (const std::int32_t v : mesh.triangle[t].vertex)
                round[v].push_back(static_cast<std::int32_t>(t));
    bool any = false;
    std::vector<Corner> ring;
    for (std::size_t v = 0; v < round.size(); ++v) {
        if (round[v].empty()) continue;
        mesh.vertex[v].triangle = round[v].front();
        mesh.ring(static_cast<std::int32_t>(v), ring);
        if (ring.size() == round[v].size()) continue;
        any = true;
        const bool first_is_larger = 2 * ring.size() >= round[v].size();
        for (const std::int32_t t : round[v]) {
            bool in_first = false;
            for (const Corner& c : ring) in_first = in_first || c.triangle == t;
            if (in_first != first_is_larger && mesh.triangle[t].alive()) remove(mesh, t);
        }
        // Removing triangles has changed other rings: start over.
        return true;
    }
    return any;
}

}  // namespace

void crop(RemeshMesh& mesh, const std::function<bool(std::int32_t)>& keep) {
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        if (mesh.triangle[t].alive() && !keep(static_cast<std::int32_t>(t)))
            remove(mesh, static_cast<std::int32_t>(t));
    mesh.compact();
}

void keep_part_of(RemeshMesh& mesh, std::int32_t triangle) {
    while (drop_pinches(mesh)) {
    }
    std::vector<char> reached(mesh.triangle.size(), 0);
    std::vector<std::int32_t> open{triangle};
    reached[triangle] = 1;
    while (!open.empty()) {
        const std::int32_t t = open.back();
        open.pop_back();
        for (const std::int32_t n : mesh.triangle[t].neighbour)
            if (n >= 0 && reached[n] == 0) {
                reached[n] = 1;
                open.push_back(n);
            }
    }
    crop(mesh, [&](std::int32_t t) { return reached[t] != 0; });
}

std::vector<double> edge_distances(const RemeshMesh& mesh, const std::vector<std::int32_t>& sources,
                                   double farthest) {
    std::vector<double> distance(mesh.vertex.size(), std::numeric_limits<double>::infinity());
    using Entry = std::pair<double, std::int32_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    for (const std::int32_t v : sources) {
        distance[v] = 0.0;
        open.emplace(0.0, v);
    }
    std::vector<Corner> ring;
    while (!open.empty()) {
        const auto [d, v] = open.top();
        open.pop();
        if (d > distance[v] || d > farthest) continue;
        mesh.ring(v, ring);
        for (const Corner& c : ring)
            for (const int step : {1, 2}) {
                const std::int32_t w = mesh.triangle[c.triangle].vertex[(c.corner + step) % 3];
                const double there =
                    d + (mesh.vertex[w].position - mesh.vertex[v].position).norm();
                if (there < distance[w]) {
                    distance[w] = there;
                    open.emplace(there, w);
                }
            }
    }
    return distance;
}

}  // namespace tearline::surface

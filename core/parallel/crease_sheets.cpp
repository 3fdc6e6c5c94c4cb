#include "core/parallel/crease_sheets.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numeric>
#include <unordered_map>

namespace tearline::parallel {
namespace {

/// Disjoint sets of corners, 3 a triangle.
class Corners {
public:
    explicit Corners(std::size_t count) : parent_(count) {
        std::iota(parent_.begin(), parent_.end(), 0);
    }
    std::int32_t root(std::int32_t c) {
        while (parent_[c] != c) c = parent_[c] = parent_[parent_[c]];
        return c;
    }
    void join(std::int32_t a, std::int32_t b) {
        a = root(a);
        b = root(b);
        parent_[std::max(a, b)] = std::min(a, b);
    }

private:
    std::vector<std::int32_t> parent_;
};

/// The corner of triangle n that shows vertex v, as 3 n + k.
std::int32_t corner_of(const surface::SurfaceMesh& mesh, std::int32_t n, std::int32_t v) {
    for (int k = 0; k < 3; ++k)
        if (mesh.triangle[n][k] == v) return 3 * n + k;
    return -1;
}

struct CreaseEdge {
    std::int32_t from, to;     ///< vertices, as the left triangle runs
    std::int32_t left, right;  ///< triangles
    bool used = false;
};

/// Crease edges of the whole mesh, and which of them each vertex has.
struct CreaseGraph {
    std::vector<CreaseEdge> edges;
    std::unordered_map<std::int32_t, std::vector<std::int32_t>> at;
    std::vector<bool> on_rim;

    /// Whether a line runs on through the vertex.
    [[nodiscard]] bool passes(std::int32_t v) const { return at.at(v).size() == 2 && !on_rim[v]; }
};

CreaseGraph crease_graph(const surface::SurfaceMesh& mesh,
                         const std::vector<std::array<bool, 3>>& crease,
                         const std::vector<std::array<std::int32_t, 3>>& across) {
    CreaseGraph graph;
    graph.on_rim.resize(mesh.position.size(), false);
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t a = mesh.triangle[t][i];
            const std::int32_t b = mesh.triangle[t][(i + 1) % 3];
            const std::int32_t n = across[t][i];
            if (n < 0) graph.on_rim[a] = graph.on_rim[b] = true;
            if (n < static_cast<std::int32_t>(t) || !crease[t][i]) continue;
            const auto id = static_cast<std::int32_t>(graph.edges.size());
            graph.edges.push_back({a, b, static_cast<std::int32_t>(t), n});
            graph.at[a].push_back(id);
            graph.at[b].push_back(id);
        }
    return graph;
}

/// Follows one line from a vertex along an edge to where it ends, branches or closes.
std::vector<CreaseEdge> follow(CreaseGraph& graph, std::int32_t start, std::int32_t first) {
    std::vector<CreaseEdge> line;
    std::int32_t v = start;
    for (std::int32_t e = first; e >= 0;) {
        CreaseEdge& edge = graph.edges[e];
        edge.used = true;
        CreaseEdge run = edge;
        if (run.from != v) {
            std::swap(run.from, run.to);
            std::swap(run.left, run.right);
        }
        line.push_back(run);
        v = run.to;
        e = -1;
        if (!graph.passes(v)) break;
        for (const std::int32_t next : graph.at[v])
            if (!graph.edges[next].used) e = next;
    }
    return line;
}

/// Every line, each as its edges in order; the order depends on the mesh alone.
std::vector<std::vector<CreaseEdge>> all_lines(CreaseGraph& graph) {
    std::vector<std::vector<CreaseEdge>> lines;
    for (const bool closed : {false, true})
        for (std::size_t e = 0; e < graph.edges.size(); ++e)
            for (const std::int32_t v : {graph.edges[e].from, graph.edges[e].to})
                if (!graph.edges[e].used && (closed || !graph.passes(v)))
                    lines.push_back(follow(graph, v, static_cast<std::int32_t>(e)));
    return lines;
}

/// Copy of vertex v in triangle t.
std::int32_t copy_in(const surface::SurfaceMesh& mesh, const CreaseSheets& sheets, std::int32_t t,
                     std::int32_t v) {
    return sheets.triangle[t][corner_of(mesh, t, v) % 3];
}

CreaseLine describe(const surface::SurfaceMesh& mesh, const CreaseSheets& sheets,
                    const CreaseGraph& graph, const std::vector<CreaseEdge>& edges) {
    CreaseLine line;
    line.starts_on_rim = graph.on_rim[edges.front().from];
    line.ends_on_rim = graph.on_rim[edges.back().to];
    const auto add = [&](std::int32_t v, const CreaseEdge& edge) {
        CreaseVertex out;
        out.vertex = v;
        out.left = copy_in(mesh, sheets, edge.left, v);
        out.right = copy_in(mesh, sheets, edge.right, v);
        line.vertices.push_back(out);
    };
    add(edges.front().from, edges.front());
    for (const CreaseEdge& edge : edges) {
        add(edge.to, edge);
        line.sides.push_back({edge.left, edge.right});
    }
    auto& v = line.vertices;
    for (std::size_t i = 0; i < v.size(); ++i) {
        const Vec3& here = mesh.position[v[i].vertex];
        if (i > 0) v[i].along = v[i - 1].along + (here - mesh.position[v[i - 1].vertex]).norm();
        const Vec3& before = mesh.position[v[i > 0 ? i - 1 : i].vertex];
        const Vec3& after = mesh.position[v[i + 1 < v.size() ? i + 1 : i].vertex];
        v[i].tangent = (after - before).normalized();
        const Vec3& nl = sheets.normal[v[i].left];
        const Vec3& nr = sheets.normal[v[i].right];
        v[i].turn = std::atan2(nl.cross(nr).dot(v[i].tangent), nl.dot(nr));
    }
    return line;
}

}  // namespace

CreaseSheets take_apart(const surface::SurfaceMesh& mesh,
                        const std::vector<std::array<bool, 3>>& crease) {
    const auto across = surface::neighbours(mesh);
    const auto count = static_cast<std::int32_t>(mesh.triangle.size());
    Corners corners(mesh.triangle.size() * 3);
    CreaseSheets sheets;
    sheets.rim.resize(mesh.triangle.size(), {false, false, false});
    for (std::int32_t t = 0; t < count; ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = across[t][i];
            sheets.rim[t][i] = n < 0;
            if (n <= t || crease[t][i]) continue;
            const int j = (i + 1) % 3;
            corners.join(3 * t + i, corner_of(mesh, n, mesh.triangle[t][i]));
            corners.join(3 * t + j, corner_of(mesh, n, mesh.triangle[t][j]));
        }
    std::vector<std::int32_t> copy(mesh.triangle.size() * 3, -1);
    sheets.triangle.resize(mesh.triangle.size());
    for (std::int32_t t = 0; t < count; ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t root = corners.root(3 * t + i);
            if (copy[root] < 0) {
                copy[root] = static_cast<std::int32_t>(sheets.origin.size());
                sheets.origin.push_back(mesh.triangle[t][i]);
                sheets.normal.emplace_back(0, 0, 0);
            }
            sheets.triangle[t][i] = copy[root];
            sheets.normal[copy[root]] += mesh.corner_normal[t][i];
        }
    for (Vec3& n : sheets.normal) n.normalize();
    CreaseGraph graph = crease_graph(mesh, crease, across);
    for (const auto& edges : all_lines(graph))
        sheets.lines.push_back(describe(mesh, sheets, graph, edges));
    return sheets;
}

}  // namespace tearline::parallel

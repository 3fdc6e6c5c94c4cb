#include "core/parallel/crease_sheets.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numeric>
#include <optional>
#include <utility>
#include <vector>

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

/// Which corner of a triangle shows a vertex.
int corner_of(const surface::SurfaceMesh& mesh, TriangleId t, VertexId v) {
    const auto& corner = mesh.triangle[t.index()];
    return corner[0] == v.value ? 0 : corner[1] == v.value ? 1 : 2;
}

struct CreaseEdge {
    VertexId from, to;  ///< as the left triangle runs
    TriangleId left, right;
    bool used = false;
};

/// Crease edges of the whole mesh, and which of them each vertex has.
struct CreaseGraph {
    std::vector<CreaseEdge> edges;
    PerId<VertexId, std::vector<std::size_t>> at;
    PerId<VertexId, bool> on_rim;

    /// Whether a line runs on through the vertex.
    [[nodiscard]] bool passes(VertexId v) const { return at[v].size() == 2 && !on_rim[v]; }
};

CreaseGraph crease_graph(const surface::SurfaceMesh& mesh,
                         const std::vector<std::array<bool, 3>>& crease,
                         const std::vector<std::array<std::int32_t, 3>>& across) {
    CreaseGraph graph;
    graph.at.resize(mesh.position.size());
    graph.on_rim.resize(mesh.position.size(), false);
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const VertexId a(mesh.triangle[t][i]), b(mesh.triangle[t][(i + 1) % 3]);
            const std::int32_t n = across[t][i];
            if (n < 0) graph.on_rim[a] = graph.on_rim[b] = true;
            if (n < static_cast<std::int32_t>(t) || !crease[t][i]) continue;
            for (const VertexId v : {a, b}) graph.at[v].push_back(graph.edges.size());
            graph.edges.push_back({a, b, TriangleId(t), TriangleId(n)});
        }
    return graph;
}

/// Follows one line from a vertex along an edge to where it ends, branches or closes.
std::vector<CreaseEdge> follow(CreaseGraph& graph, VertexId start, std::size_t first) {
    std::vector<CreaseEdge> line;
    VertexId v = start;
    for (std::optional<std::size_t> e = first; e;) {
        CreaseEdge& edge = graph.edges[*e];
        edge.used = true;
        CreaseEdge run = edge;
        if (run.from != v) {
            std::swap(run.from, run.to);
            std::swap(run.left, run.right);
        }
        line.push_back(run);
        v = run.to;
        e.reset();
        if (!graph.passes(v)) break;
        for (const std::size_t next : graph.at[v])
            if (!graph.edges[next].used) e = next;
    }
    return line;
}

/// Every line, each as its edges in order; the order depends on the mesh alone.
std::vector<std::vector<CreaseEdge>> all_lines(CreaseGraph& graph) {
    std::vector<std::vector<CreaseEdge>> lines;
    for (const bool closed : {false, true})
        for (std::size_t e = 0; e < graph.edges.size(); ++e)
            for (const VertexId v : {graph.edges[e].from, graph.edges[e].to})
                if (!graph.edges[e].used && (closed || !graph.passes(v)))
                    lines.push_back(follow(graph, v, e));
    return lines;
}

/// Copy of vertex v in triangle t.
CopyId copy_in(const surface::SurfaceMesh& mesh, const CreaseSheets& sheets, TriangleId t,
               VertexId v) {
    return sheets.triangle[t][corner_of(mesh, t, v)];
}

CreaseLine describe(const surface::SurfaceMesh& mesh, const CreaseSheets& sheets,
                    const CreaseGraph& graph, const std::vector<CreaseEdge>& edges) {
    CreaseLine line;
    line.starts_on_rim = graph.on_rim[edges.front().from];
    line.ends_on_rim = graph.on_rim[edges.back().to];
    const auto add = [&](VertexId v, const CreaseEdge& edge) {
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
        const Vec3& here = mesh.position[v[i].vertex.index()];
        if (i > 0)
            v[i].along = v[i - 1].along + (here - mesh.position[v[i - 1].vertex.index()]).norm();
        const Vec3& before = mesh.position[v[i > 0 ? i - 1 : i].vertex.index()];
        const Vec3& after = mesh.position[v[i + 1 < v.size() ? i + 1 : i].vertex.index()];
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
    Corners corners(mesh.triangle.size() * 3);
    CreaseSheets sheets;
    sheets.rim.resize(mesh.triangle.size(), {false, false, false});
    for (const TriangleId t : sheets.rim.ids())
        for (int i = 0; i < 3; ++i) {
            const TriangleId n(across[t.index()][i]);
            sheets.rim[t][i] = !n.valid();
            if (n <= t || crease[t.index()][i]) continue;
            for (const int end : {i, (i + 1) % 3}) {
                const VertexId v(mesh.triangle[t.index()][end]);
                corners.join(3 * t.value + end, 3 * n.value + corner_of(mesh, n, v));
            }
        }
    std::vector<CopyId> copy(mesh.triangle.size() * 3);
    std::vector<VertexId> origin;
    std::vector<Vec3> normal;
    origin.reserve(mesh.position.size() + mesh.position.size() / 8);
    normal.reserve(origin.capacity());
    sheets.triangle.resize(mesh.triangle.size());
    for (const TriangleId t : sheets.triangle.ids())
        for (int i = 0; i < 3; ++i) {
            CopyId& c = copy[corners.root(3 * t.value + i)];
            if (!c.valid()) {
                c = CopyId(origin.size());
                origin.emplace_back(mesh.triangle[t.index()][i]);
                normal.emplace_back(0, 0, 0);
            }
            sheets.triangle[t][i] = c;
            normal[c.index()] += mesh.corner_normal[t.index()][i];
        }
    for (Vec3& n : normal) n.normalize();
    sheets.origin = PerId<CopyId, VertexId>(std::move(origin));
    sheets.normal = PerId<CopyId, Vec3>(std::move(normal));
    CreaseGraph graph = crease_graph(mesh, crease, across);
    for (const auto& edges : all_lines(graph))
        sheets.lines.push_back(describe(mesh, sheets, graph, edges));
    return sheets;
}

}  // namespace tearline::parallel

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/remesh/remesh.h"
#include "core/remesh/tolerances.h"

namespace tearline::remesh {
namespace {

constexpr double least_kept_cosine = 0.3;  ///< between a triangle's normals before and after
constexpr double least_shape = 0.15;       ///< of an equilateral triangle's shape, after a collapse

/// 1 for an equilateral triangle, 0 for a sliver.
double shape(const Vec3& a, const Vec3& b, const Vec3& c) {
    const double sides = (b - a).squaredNorm() + (c - b).squaredNorm() + (a - c).squaredNorm();
    return 2.0 * std::sqrt(3.0) * (b - a).cross(c - a).norm() / sides;
}

class Collapser {
public:
    Collapser(RemeshMesh& mesh, const surface::Carrier& carrier) : mesh_(mesh), carrier_(carrier) {}

    /// Collapses the edge if that does no harm.
    bool try_collapse(Corner e) {
        const RemeshTriangle& t = mesh_.triangle[e.triangle];
        const VertexId a = t.vertex[e.corner];
        const VertexId b = t.vertex[(e.corner + 1) % 3];
        const bool closed = mesh_.ring(a, ring_a_);
        const KeptEdge& along = t.kept[e.corner];
        if (!(along.kept() ? may_slide(along, along.from) : closed && is_free(e))) return false;
        if (!link_is_plain(e, a, b) || !shapes_stay_sound(a, b)) return false;
        mesh_.collapse(e, ring_a_);
        return true;
    }

    /// The same of a rim edge the other way: it has no other side to be tried from, and where its
    /// first vertex is a corner only the second one can go.
    bool try_collapse_back(Corner e) {
        const RemeshTriangle& t = mesh_.triangle[e.triangle];
        if (t.neighbour[e.corner].valid() || !t.kept[e.corner].kept()) return false;
        const VertexId stays = t.vertex[e.corner], goes = t.vertex[(e.corner + 1) % 3];
        mesh_.ring(goes, ring_a_);
        if (!may_slide(t.kept[e.corner], t.kept[e.corner].to)) return false;
        if (!t.neighbour[(e.corner + 1) % 3].valid() || t.kept[(e.corner + 1) % 3].kept())
            return false;
        if (!neighbours_differ(stays, goes, t.vertex[(e.corner + 2) % 3], {}) ||
            !shapes_stay_sound(goes, stays))
            return false;
        mesh_.collapse_back(e, ring_a_);
        return true;
    }

private:
    /// No kept edge ends at the first vertex, and its parameters do not jump.
    bool is_free(Corner e) {
        const surface::Anchor& anchor = mesh_.triangle[e.triangle].anchor[e.corner];
        for (const Corner& c : ring_a_)
            if (mesh_.triangle[c.triangle].kept[c.corner].kept() ||
                !carrier_.same(mesh_.triangle[c.triangle].anchor[c.corner], anchor))
                return false;
        const TriangleId n = mesh_.triangle[e.triangle].neighbour[e.corner];
        const RemeshTriangle& t = mesh_.triangle[e.triangle];
        const int k = mesh_.edge_in(n, t.vertex[(e.corner + 1) % 3], t.vertex[e.corner]);
        return carrier_.same(t.anchor[(e.corner + 1) % 3], mesh_.triangle[n].anchor[k]);
    }

    /// The vertex of ring a, where the kept edge has the parameter `here`, lies inside that edge
    /// and moves along it.
    bool may_slide(const KeptEdge& along, double here) {
        int kept_edges = 0;
        const auto count = [&](const KeptEdge& k, double parameter_here) {
            if (!k.kept()) return;
            ++kept_edges;
            if (k.edge != along.edge || parameter_here != here || k.hull_end != along.hull_end)
                kept_edges = 99;  // a corner, or the seam of a closed edge
        };
        for (const Corner& c : ring_a_) {
            const RemeshTriangle& t = mesh_.triangle[c.triangle];
            count(t.kept[c.corner], t.kept[c.corner].from);
            const int in = (c.corner + 2) % 3;
            if (!t.neighbour[in].valid())
                count(t.kept[in], t.kept[in].to);
            else if (t.kept[in].kept() && t.kept[in].to != here)
                return false;
        }
        return kept_edges == 2;
    }

    bool link_is_plain(Corner e, VertexId a, VertexId b) {
        const RemeshTriangle& t = mesh_.triangle[e.triangle];
        const TriangleId n = t.neighbour[e.corner];
        const VertexId c = t.vertex[(e.corner + 2) % 3];
        VertexId d;
        if (n.valid()) d = mesh_.triangle[n].vertex[(mesh_.edge_in(n, b, a) + 2) % 3];
        // The edges that merge must not both be rim, nor may two kept edges merge.
        if (!t.neighbour[(e.corner + 2) % 3].valid() || t.kept[(e.corner + 2) % 3].kept())
            return false;
        if (n.valid()) {
            const int k = (mesh_.edge_in(n, b, a) + 1) % 3;
            if (!mesh_.triangle[n].neighbour[k].valid() || mesh_.triangle[n].kept[k].kept())
                return false;
        }
        mesh_.ring(b, ring_b_);
        if (ring_b_.size() < 4 && n.valid()) return false;
        return neighbours_differ(b, a, c, d);
    }

    /// Whether a and b have no neighbour in common but c and d.
    bool neighbours_differ(VertexId b, VertexId a, VertexId c, VertexId d) {
        mesh_.ring(b, ring_b_);
        around_a_.clear();
        for (const Corner& r : ring_a_)
            for (const int s : {1, 2})
                around_a_.push_back(mesh_.triangle[r.triangle].vertex[(r.corner + s) % 3]);
        for (const Corner& r : ring_b_)
            for (const int s : {1, 2}) {
                const VertexId v = mesh_.triangle[r.triangle].vertex[(r.corner + s) % 3];
                if (v == a || v == c || v == d) continue;
                if (std::find(around_a_.begin(), around_a_.end(), v) != around_a_.end())
                    return false;
            }
        return true;
    }

    bool shapes_stay_sound(VertexId a, VertexId b) {
        const Vec3& target = mesh_.vertex[b].position;
        for (const Corner& c : ring_a_) {
            const RemeshTriangle& t = mesh_.triangle[c.triangle];
            const VertexId p = t.vertex[(c.corner + 1) % 3];
            const VertexId q = t.vertex[(c.corner + 2) % 3];
            if (p == b || q == b) continue;
            const Vec3& x = mesh_.vertex[p].position;
            const Vec3& y = mesh_.vertex[q].position;
            const double size =
                tolerance::longest_edge * std::min(mesh_.vertex[p].size, mesh_.vertex[b].size);
            if ((x - target).squaredNorm() > size * size) return false;
            const Vec3 before = (x - mesh_.vertex[a].position).cross(y - mesh_.vertex[a].position);
            const Vec3 after = (x - target).cross(y - target);
            if (!(before.dot(after) > least_kept_cosine * before.norm() * after.norm()))
                return false;
            if (shape(target, x, y) < std::min(least_shape, shape(mesh_.vertex[a].position, x, y)))
                return false;
        }
        return true;
    }

    RemeshMesh& mesh_;
    const surface::Carrier& carrier_;
    std::vector<Corner> ring_a_, ring_b_;
    std::vector<VertexId> around_a_;
};

}  // namespace

std::size_t collapse_short_edges(RemeshMesh& mesh, const surface::Carrier& carrier, double limit) {
    Collapser collapser(mesh, carrier);
    std::size_t gone = 0;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3 && mesh.triangle[t].alive(); ++i) {
            const Corner e{t, i};
            const auto& v = mesh.triangle[t].vertex;
            const double size =
                limit * std::min(mesh.vertex[v[i]].size, mesh.vertex[v[(i + 1) % 3]].size);
            if (mesh.length2(e) < size * size &&
                (collapser.try_collapse(e) || collapser.try_collapse_back(e)))
                ++gone;
        }
    return gone;
}

}  // namespace tearline::remesh

#include "core/patch/cut_at_told_end.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

#include "core/base/tolerances.h"
#include "core/patch/tolerances.h"

namespace tearline::patch {
namespace {

/// The number of the told end among a carrier's kept edges: below those of straight ones.
constexpr std::int32_t told_edge = (1 << 30) - 1;

/// A hull's carrier that knows the end that was told, as one more kept edge.
class EndedCarrier final : public surface::Carrier {
public:
    EndedCarrier(std::shared_ptr<const surface::Carrier> hull, ToldEnd end,
                 std::map<double, surface::Anchor> anchors)
        : hull_(std::move(hull)), end_(std::move(end)), anchors_(std::move(anchors)) {}

    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        return hull_->carry(start, point);
    }
    [[nodiscard]] surface::Anchor between(const std::array<surface::Anchor, 3>& corner,
                                          const Vec3& weights) const override {
        return hull_->between(corner, weights);
    }
    [[nodiscard]] bool same(const surface::Anchor& a, const surface::Anchor& b) const override {
        return hull_->same(a, b);
    }
    [[nodiscard]] Vec3 edge_point(std::int32_t edge, double parameter) const override {
        if (edge != told_edge) return hull_->edge_point(edge, parameter);
        auto near = anchors_.lower_bound(parameter);
        if (near == anchors_.end()) --near;
        if (near != anchors_.begin()) {
            const auto before = std::prev(near);
            if (parameter - before->first < near->first - parameter) near = before;
        }
        return hull_->carry(near->second, end_.point(parameter)).position;
    }

private:
    std::shared_ptr<const surface::Carrier> hull_;
    ToldEnd end_;
    std::map<double, surface::Anchor> anchors_;  ///< near places of the line
};

class EndCut {
public:
    EndCut(CroppedHull& hull, const ToldEnd& end) : hull_(hull), mesh_(hull.mesh), end_(end) {}

    void run(const Vec3& inside) {
        measure();
        orient(inside);
        move_near_vertices();
        split_edges();
        remove_beyond();
    }

private:
    /// Where each vertex lies beside the line; > 0 is beyond it once oriented.
    void measure() {
        normal_.resize(mesh_.vertex.size(), Vec3::Zero());
        for (const TriangleId t : mesh_.triangle.ids())
            for (const VertexId v : mesh_.triangle[t].vertex) normal_[v] += mesh_.area_vector(t);
        for (const VertexId v : mesh_.vertex.ids()) {
            normal_[v].normalize();
            beside_.add(snapped(end_.beside(mesh_.vertex[v].position, normal_[v])));
        }
    }

    static double snapped(double beside) {
        return std::abs(beside) <= tolerance::weld ? 0.0 : beside;
    }

    void orient(const Vec3& inside) {
        VertexId near(0);
        double nearest = std::numeric_limits<double>::infinity(), left = 0.0;
        for (const VertexId v : mesh_.vertex.ids()) {
            const double away = (mesh_.vertex[v].position - inside).squaredNorm();
            if (away < nearest) nearest = away, near = v;
        }
        double beside = end_.beside(inside, normal_[near]);
        if (!(std::abs(beside) > ToldEnd::near)) {
            for (const TriangleId t : mesh_.triangle.ids()) {
                double sum = 0.0;
                for (const VertexId v : mesh_.triangle[t].vertex) sum += beside_[v];
                left += sum > 0.0 ? mesh_.area_vector(t).norm() : -mesh_.area_vector(t).norm();
            }
            beside = left;
        }
        if (beside > 0.0) sign_ = -1.0;
        for (double& b : beside_) b *= sign_;
    }

    [[nodiscard]] double beside(const Vec3& p, const Vec3& normal) const {
        return sign_ * end_.beside(p, normal);
    }

    void move_near_vertices() {
        std::vector<remesh::Corner> ring;
        for (const VertexId v : mesh_.vertex.ids()) {
            const Vec3& at = mesh_.vertex[v].position;
            if (!mesh_.ring(v, ring)) continue;  // on a rim
            double shortest = std::numeric_limits<double>::infinity();
            bool kept = false;
            for (const remesh::Corner& c : ring) {
                kept = kept || mesh_.triangle[c.triangle].kept[c.corner].kept();
                shortest = std::min(shortest, mesh_.length2(c));
            }
            if (kept || !(std::abs(beside_[v]) < tolerance::vertex_on_cut * std::sqrt(shortest)))
                continue;
            const Vec3 on_line = end_.nearest(at).place;
            for (const remesh::Corner& c : ring) {
                surface::Anchor& anchor = mesh_.triangle[c.triangle].anchor[c.corner];
                const surface::Carried carried = hull_.carrier->carry(anchor, on_line);
                anchor = carried.anchor;
                mesh_.vertex[v].position = carried.position;
            }
            beside_[v] = 0.0;
        }
    }

    [[nodiscard]] bool crosses(remesh::Corner e) const {
        const auto& v = mesh_.triangle[e.triangle].vertex;
        return beside_[v[e.corner]] * beside_[v[(e.corner + 1) % 3]] < 0.0;
    }

    void split_edges() {
        for (std::size_t k = 0; k < mesh_.triangle.size(); ++k)
            for (int i = 0; i < 3;) {
                const remesh::Corner e{TriangleId(k), i};
                if (!crosses(e)) {
                    ++i;
                    continue;
                }
                split(e);
                i = 0;
            }
    }

    /// Parameter of a kept edge's point that lies on the line.
    [[nodiscard]] double crossing(const remesh::KeptEdge& kept, const Vec3& normal,
                                  double beside_from) const {
        double low = kept.from, high = kept.to;
        constexpr int halvings = 48;
        for (int k = 0; k < halvings; ++k) {
            const double middle = 0.5 * (low + high);
            const double here = beside(hull_.carrier->edge_point(kept.edge, middle), normal);
            ((here > 0.0) == (beside_from > 0.0) ? low : high) = middle;
        }
        return 0.5 * (low + high);
    }

    void split(remesh::Corner e) {
        const remesh::RemeshTriangle& here = mesh_.triangle[e.triangle];
        const int i = e.corner, j = (i + 1) % 3;
        const VertexId a = here.vertex[i], b = here.vertex[j];
        const remesh::KeptEdge kept = here.kept[i];
        const double part = beside_[a] / (beside_[a] - beside_[b]);
        const Vec3 normal = ((1.0 - part) * normal_[a] + part * normal_[b]).normalized();
        double parameter = 0.0;
        Vec3 q = (1.0 - part) * mesh_.point(e.triangle, i) + part * mesh_.point(e.triangle, j);
        if (kept.kept()) {
            parameter = crossing(kept, normal, beside_[a]);
            q = hull_.carrier->edge_point(kept.edge, parameter);
        } else {
            q = end_.nearest(q).place;
        }
        const auto carried = [&](const remesh::RemeshTriangle& t, int first, double share) {
            Vec3 weights = Vec3::Zero();
            weights[first] = 1.0 - share;
            weights[(first + 1) % 3] = share;
            return hull_.carrier->carry(hull_.carrier->between(t.anchor, weights), q);
        };
        const surface::Carried found = carried(here, i, part);
        remesh::RemeshVertex m;
        m.position = kept.kept() ? q : found.position;
        m.size = std::min(mesh_.vertex[a].size, mesh_.vertex[b].size);
        surface::Anchor across = found.anchor;
        if (const TriangleId n = here.neighbour[i]; n.valid()) {
            q = m.position;
            across = carried(mesh_.triangle[n], mesh_.edge_in(n, b, a), 1.0 - part).anchor;
        }
        mesh_.split(e, mesh_.vertex.add(m), found.anchor, across, parameter);
        beside_.add(0.0);
        normal_.add(normal);
    }

    [[nodiscard]] bool is_beyond(TriangleId t) const {
        const auto& v = mesh_.triangle[t].vertex;
        return std::any_of(v.begin(), v.end(), [&](VertexId k) { return beside_[k] > 0.0; });
    }

    void remove_beyond() {
        PerId<TriangleId, bool> gone(mesh_.triangle.size(), false);
        for (const TriangleId t : mesh_.triangle.ids()) gone[t] = is_beyond(t);
        std::map<double, surface::Anchor> anchors;
        for (const TriangleId t : mesh_.triangle.ids()) {
            if (gone[t]) continue;
            remesh::RemeshTriangle& triangle = mesh_.triangle[t];
            for (int i = 0; i < 3; ++i) {
                const TriangleId n = triangle.neighbour[i];
                if (!n.valid() || !gone[n]) continue;
                remesh::KeptEdge& kept = triangle.kept[i];
                kept.hull_end = true;
                if (kept.kept()) continue;
                kept.edge = told_edge;
                kept.from = end_.nearest(mesh_.point(t, i)).at;
                kept.to = end_.nearest(mesh_.point(t, i + 1)).at;
                anchors.emplace(kept.from, triangle.anchor[i]);
                anchors.emplace(kept.to, triangle.anchor[(i + 1) % 3]);
            }
        }
        if (std::none_of(gone.begin(), gone.end(), [](bool one) { return one; })) return;
        remove_triangles(mesh_, gone);
        if (!anchors.empty())
            hull_.carrier = std::make_shared<EndedCarrier>(hull_.carrier, end_, std::move(anchors));
    }

    CroppedHull& hull_;
    remesh::RemeshMesh& mesh_;
    const ToldEnd& end_;
    double sign_ = 1.0;
    PerId<VertexId, double> beside_;  ///< [mm] 0: on the line
    PerId<VertexId, Vec3> normal_;
};

}  // namespace

void cut_at_told_end(CroppedHull& hull, const ToldEnd& end, const Vec3& inside) {
    EndCut(hull, end).run(inside);
}

}  // namespace tearline::patch

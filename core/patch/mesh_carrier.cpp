#include "core/patch/mesh_carrier.h"

#include <cmath>
#include <mutex>

#include "core/base/tolerances.h"
#include "core/patch/facets.h"
#include "core/patch/tolerances.h"
#include "core/surface/patch_index.h"

namespace tearline::patch {
namespace {

class MeshCarrier final : public surface::Carrier {
public:
    explicit MeshCarrier(remesh::RemeshMesh& mesh) : facets_(mesh) {}

    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        const auto [t, w] = walk_to(start.face, weights(start), point);
        surface::Carried walked = on_curved(t, w, point);
        if (!(w.minCoeff() < 0.0)) return walked;
        // Stopped at a crease or lost: a facet that is clearly nearer is taken instead.
        const double off = (walked.position - point).norm();
        if (!(off > tolerance::foot)) return walked;
        // Most meshes never need the tree.
        std::call_once(tree_built_, [this] {
            tree_ = surface::build_box_tree(facets_.position(), facets_.corners());
        });
        const surface::NearestTriangle found =
            surface::nearest_triangle(tree_, facets_.position(), facets_.corners(), point);
        if (!(off > lost * found.distance + tolerance::weld)) return walked;
        const auto [n, v] = walk_to(found.triangle.value, found.weights, point);
        surface::Carried near = on_curved(n, v, point);
        return (near.position - point).norm() < off ? near : walked;
    }

    [[nodiscard]] surface::Anchor between(const std::array<surface::Anchor, 3>& corner,
                                          const Vec3& weights) const override {
        Eigen::Index most = 0;
        weights.maxCoeff(&most);
        return corner[static_cast<std::size_t>(most)];
    }

    [[nodiscard]] bool same(const surface::Anchor& a, const surface::Anchor& b) const override {
        if (a.face == b.face && a.uv == b.uv) return true;
        return normal_at(a).dot(normal_at(b)) > 1.0 - tolerance::same_normal;
    }

    [[nodiscard]] Vec3 edge_point(std::int32_t edge, double parameter) const override {
        return facets_.chains().at(edge, parameter);
    }

private:
    static constexpr int most_walks = 200;
    static constexpr int most_steps = 6;
    static constexpr double lost = 2.0;  ///< times the nearest distance is too far for a foot

    static Vec3 weights(const surface::Anchor& a) {
        return {1.0 - a.uv[0] - a.uv[1], a.uv[0], a.uv[1]};
    }

    [[nodiscard]] Vec3 normal_at(const surface::Anchor& a) const {
        return facets_.normal(a.face, weights(a));
    }

    /// From facet to facet towards the one whose prism of normals holds the point.
    [[nodiscard]] std::pair<std::int32_t, Vec3> walk_to(std::int32_t t, Vec3 w,
                                                        const Vec3& point) const {
        std::int32_t before = -1;
        for (int walk = 0; walk < most_walks; ++walk) {
            w = turning_foot(facets_.places(t), facets_.normals(t), point);
            Eigen::Index worst = 0;
            if (!(w.minCoeff(&worst) < -tolerance::barycentric_slack)) break;
            // Over the edge that faces the corner with the least weight, else the other one.
            std::int32_t next = facets_.neighbours(t)[(worst + 1) % 3];
            if (next < 0 || next == before)
                next = second_way(facets_.neighbours(t), w, static_cast<int>(worst));
            if (next < 0 || next == before) break;
            before = t;
            t = next;
        }
        return {t, w};
    }

    /// The other edge that the point lies beyond, if any.
    static std::int32_t second_way(const std::array<std::int32_t, 3>& neighbour, const Vec3& w,
                                   int worst) {
        for (int k = 0; k < 3; ++k)
            if (k != worst && w[k] < -tolerance::barycentric_slack) return neighbour[(k + 1) % 3];
        return -1;
    }

    /// From the flat foot to the point of the curved triangle whose normal meets `point`.
    [[nodiscard]] surface::Carried on_curved(std::int32_t t, Vec3 w, const Vec3& point) const {
        const CurvedTriangle c = facets_.curved(t);
        constexpr double outside = -0.1;  // no cubic is followed farther beyond its triangle
        w = w.cwiseMax(outside);
        w /= w.sum();
        surface::Carried out;
        for (int step = 0; step < most_steps; ++step) {
            out.normal = facets_.normal(t, w);
            out.position = c.at(w);
            const Vec3 off = point - out.position;
            const Vec3 side = off - off.dot(out.normal) * out.normal;
            if (!(side.norm() > tolerance::foot) || step + 1 == most_steps) break;
            const Vec3 a = c.by(1, w) - c.by(0, w);
            const Vec3 b = c.by(2, w) - c.by(0, w);
            const double aa = a.squaredNorm();
            const double ab = a.dot(b);
            const double bb = b.squaredNorm();
            const double det = aa * bb - ab * ab;
            if (!(det > 0.0)) break;
            const double x = (bb * a.dot(side) - ab * b.dot(side)) / det;
            const double y = (aa * b.dot(side) - ab * a.dot(side)) / det;
            w = (w + Vec3(-x - y, x, y)).cwiseMax(outside);
            w /= w.sum();
        }
        out.anchor = {t, Vec2(w[1], w[2])};
        const Vec2 curvature = facets_.curvature(t, w, out.position);
        out.curvature_min = curvature[0];
        out.curvature_max = curvature[1];
        return out;
    }

    Facets facets_;
    mutable surface::BoxTree tree_;
    mutable std::once_flag tree_built_;
};

}  // namespace

std::shared_ptr<const surface::Carrier> make_mesh_carrier(remesh::RemeshMesh& mesh) {
    return std::make_shared<MeshCarrier>(mesh);
}

}  // namespace tearline::patch

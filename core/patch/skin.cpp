#include "core/patch/skin.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/patch/tolerances.h"
#include "core/remesh/remesh.h"

namespace tearline::patch {
namespace {

/// The surface parallel to another; their normals are common, so the foot of one serves both.
class ParallelCarrier final : public surface::Carrier {
public:
    ParallelCarrier(std::shared_ptr<const surface::Carrier> model, double outward)
        : model_(std::move(model)), outward_(outward) {}

    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        surface::Carried c = model_->carry(start, point);
        c.position += outward_ * c.normal;
        // A radius grows by the distance where the surface bulges outward.
        const double low = c.curvature_min / (1.0 + outward_ * c.curvature_min);
        const double high = c.curvature_max / (1.0 + outward_ * c.curvature_max);
        c.curvature_min = std::min(low, high);
        c.curvature_max = std::max(low, high);
        return c;
    }
    [[nodiscard]] surface::Anchor between(const std::array<surface::Anchor, 3>& corner,
                                          const Vec3& weights) const override {
        return model_->between(corner, weights);
    }
    [[nodiscard]] bool same(const surface::Anchor& a, const surface::Anchor& b) const override {
        return model_->same(a, b);
    }
    [[nodiscard]] Vec3 edge_point(std::int32_t edge, double parameter) const override {
        return model_->edge_point(edge, parameter);  // never split after the move
    }

private:
    std::shared_ptr<const surface::Carrier> model_;
    double outward_;
};

/// How a mesh moves square to itself.
struct Moves {
    PerId<VertexId, Vec3> vertex;                   ///< [-] by one unit: that far along each normal
    PerId<TriangleId, std::array<Vec3, 3>> normal;  ///< at its corners
    double longest = 1.0;  ///< [-] at sharp creases vertices go much farther
};

Moves moves_of(const remesh::RemeshMesh& mesh, const surface::Carrier& carrier) {
    Moves moves;
    PerId<VertexId, Eigen::Matrix3d> matrix(mesh.vertex.size(), Eigen::Matrix3d::Zero());
    PerId<VertexId, Vec3> right(mesh.vertex.size(), Vec3::Zero());
    PerId<VertexId, std::pair<surface::Anchor, Vec3>> last(mesh.vertex.size());
    moves.normal.resize(mesh.triangle.size());
    for (const TriangleId t : mesh.triangle.ids()) {
        const remesh::RemeshTriangle& triangle = mesh.triangle[t];
        for (int i = 0; i < 3; ++i) {
            const VertexId v = triangle.vertex[i];
            auto& [anchor, normal] = last[v];
            if (anchor.face != triangle.anchor[i].face || anchor.uv != triangle.anchor[i].uv) {
                anchor = triangle.anchor[i];
                normal = carrier.carry(anchor, mesh.vertex[v].position).normal;
            }
            moves.normal[t][i] = normal;
            matrix[v] += normal * normal.transpose();
            right[v] += normal;
        }
    }
    moves.vertex.resize(mesh.vertex.size(), Vec3::Zero());
    for (const VertexId v : mesh.vertex.ids()) {
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(matrix[v]);
        for (int k = 0; k < 3; ++k) {
            const double value = eigen.eigenvalues()[k];
            if (!(value > tolerance::flat_corner * eigen.eigenvalues()[2])) continue;
            const Vec3 axis = eigen.eigenvectors().col(k);
            moves.vertex[v] += axis * (axis.dot(right[v]) / value);
        }
        moves.longest = std::max(moves.longest, moves.vertex[v].norm());
    }
    return moves;
}

/// Moves every vertex.
///
/// @return the triangles that turned over
std::vector<TriangleId> displace(remesh::RemeshMesh& mesh, const Moves& moves, double by) {
    for (const VertexId v : mesh.vertex.ids()) mesh.vertex[v].position += by * moves.vertex[v];
    std::vector<TriangleId> over;
    for (const TriangleId t : mesh.triangle.ids()) {
        const Vec3 facing = mesh.area_vector(t);
        const auto& n = moves.normal[t];
        if (!(facing.dot(n[0] + n[1] + n[2]) > 0.0)) over.push_back(t);
    }
    return over;
}

/// Vertices on the rim that cropping made, which is no end of the hull.
PerId<VertexId, bool> on_cropped_rim(const remesh::RemeshMesh& mesh) {
    PerId<VertexId, bool> rim(mesh.vertex.size(), false);
    for (const remesh::RemeshTriangle& t : mesh.triangle)
        for (int i = 0; i < 3; ++i)
            if (!t.neighbour[i].valid() && !t.kept[i].hull_end)
                rim[t.vertex[i]] = rim[t.vertex[(i + 1) % 3]] = true;
    return rim;
}

/// Takes triangles that turned over off the cropped rim: where a crease leaves the mesh, what the
/// sides lose there has no neighbour to be mended with, and nothing of the repair lies so far out.
///
/// @return a vertex of a turned triangle elsewhere, or none
VertexId take_off_rim(remesh::RemeshMesh& mesh, const std::vector<TriangleId>& over) {
    if (over.empty()) return {};
    constexpr int rings = 3;  // from the rim that may fray in one step
    PerId<VertexId, bool> rim = on_cropped_rim(mesh);
    const auto touches_rim = [&](const remesh::RemeshTriangle& t) {
        return rim[t.vertex[0]] || rim[t.vertex[1]] || rim[t.vertex[2]];
    };
    PerId<TriangleId, bool> remove(mesh.triangle.size(), false);
    std::vector<TriangleId> left = over;
    for (int ring = 0; ring < rings && !left.empty(); ++ring) {
        const auto frayed = std::partition(
            left.begin(), left.end(), [&](TriangleId t) { return !touches_rim(mesh.triangle[t]); });
        for (auto t = frayed; t != left.end(); ++t) {
            remove[*t] = true;
            for (const VertexId v : mesh.triangle[*t].vertex) rim[v] = true;
        }
        left.erase(frayed, left.end());
    }
    if (!left.empty()) return mesh.triangle[left.front()].vertex[0];
    TriangleId inside;  // as it is numbered once the others are gone
    std::int32_t number = 0;
    for (const TriangleId t : remove.ids()) {
        if (remove[t]) continue;
        if (!inside.valid() && !touches_rim(mesh.triangle[t])) inside = TriangleId(number);
        ++number;
    }
    if (!inside.valid()) return mesh.triangle[over.front()].vertex[0];
    remove_triangles(mesh, remove);
    keep_component(mesh, inside);
    return {};
}

}  // namespace

Result<void> move_by_skin(CroppedHull& cropped, double sign, double skin) {
    remesh::RemeshMesh& mesh = cropped.mesh;
    const std::shared_ptr<const surface::Carrier> model = cropped.carrier;
    double least = skin;
    for (const auto& v : mesh.vertex) least = std::min(least, v.size);
    constexpr double share = 0.3;      // of an edge, moved at a time
    constexpr double shortest = 0.75;  // of the wished length, after a move
    constexpr double most_steps = 80.0;
    for (double done = 0.0; done < skin;) {
        const Moves moves = moves_of(mesh, *cropped.carrier);
        const double wished = std::max(share * least / moves.longest, skin / most_steps);
        const int left = static_cast<int>(std::ceil((skin - done) / wished));
        const double step = (skin - done) / left;
        done = left == 1 ? skin : done + step;
        const VertexId over = take_off_rim(mesh, displace(mesh, moves, sign * step));
        if (over.valid()) {
            const Vec3& p = mesh.vertex[over].position;
            return no_safe_answer(
                "hull.skin",
                fixed(skin, 1) + " mm of skin is more than the hull's radius near (" +
                    fixed(p.x(), 0) + ", " + fixed(p.y(), 0) + ", " + fixed(p.z(), 0) +
                    ") mm; model the face that the repair is laid on",
                p);
        }
        cropped.carrier = std::make_shared<ParallelCarrier>(model, sign * done);
        remesh::collapse_short_edges(mesh, *cropped.carrier, shortest);
        mesh.compact();
        remesh::flip_to_delaunay(mesh, *cropped.carrier);
        remesh::relax(mesh, *cropped.carrier);
    }
    return {};
}

}  // namespace tearline::patch

#include "core/scan/creased_face.h"

#include <algorithm>
#include <limits>
#include <map>
#include <optional>
#include <utility>

#include "core/hull/topology.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/triangulate_region.h"
#include "core/scan/grid_points.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// A face a side and a bend, an edge a seam between them.
class CreasedFaces final : public hull::CadFaces {
public:
    explicit CreasedFaces(std::shared_ptr<const CreasedSurface> surface)
        : surface_(std::move(surface)), seams_(surface_->seams()) {}

    [[nodiscard]] hull::FacePoint evaluate(FaceId face, const Vec2& uv) const override {
        const SurfaceJet jet = surface_->jet(face.index(), uv);
        return {jet.position, jet.du, jet.dv, jet.duu, jet.duv, jet.dvv};
    }
    [[nodiscard]] double outward_sign(FaceId) const override { return 1.0; }
    [[nodiscard]] Vec3 edge_point(hull::EdgeId edge, double along) const override {
        return surface_->seam_point(seams_[edge.index()], along);
    }
    [[nodiscard]] Vec2 edge_uv(hull::EdgeId edge, FaceId face, double along) const override {
        return surface_->parameters(face.index(), surface_->view().flat(edge_point(edge, along)));
    }
    [[nodiscard]] Vec2 edge_uv(hull::EdgeId edge, FaceId face, double along,
                               const Vec2&) const override {
        return edge_uv(edge, face, along);
    }

private:
    std::shared_ptr<const CreasedSurface> surface_;
    std::vector<CreasedSurface::Seam> seams_;
};

/// Where a vertex of the mesh lies on a seam.
struct OnSeam {
    std::size_t seam = 0;
    double along = 0.0;  ///< [mm]
};

/// The domain with every seam drawn through it.
plane::Skeleton skeleton_of(const std::vector<CreasedSurface::Seam>& seams, const Loop2& rim,
                            double edge) {
    plane::Skeleton skeleton;
    skeleton.points = rim;
    const auto count = static_cast<std::int32_t>(rim.size());
    for (std::int32_t i = 0; i < count; ++i)
        skeleton.edges.push_back({i, (i + 1) % count, plane::EdgeKind::outline});
    for (const CreasedSurface::Seam& seam : seams) {
        double low = 0.0, high = 0.0;
        for (const Vec2& p : rim) {
            low = std::min(low, seam.line.along(p));
            high = std::max(high, seam.line.along(p));
        }
        // Past the rim at both ends: what lies outside goes with the outside.
        const int parts = std::max(2, static_cast<int>((high - low) / edge) + 1);
        for (int i = -1; i <= parts + 1; ++i) {
            skeleton.points.push_back(seam.line.at(low + (high - low) * i / parts));
            if (i < 0) continue;
            const auto last = static_cast<std::int32_t>(skeleton.points.size()) - 1;
            skeleton.edges.push_back({last - 1, last, plane::EdgeKind::crease});
        }
    }
    return skeleton;
}

std::size_t seam_at(const std::vector<CreasedSurface::Seam>& seams, const Vec2& flat) {
    return static_cast<std::size_t>(
        std::min_element(seams.begin(), seams.end(),
                         [&](const CreasedSurface::Seam& a, const CreasedSurface::Seam& b) {
                             return std::abs(a.line.left_of(flat)) < std::abs(b.line.left_of(flat));
                         }) -
        seams.begin());
}

/// The vertices that lie on seams.
std::vector<std::optional<OnSeam>> on_seams(const CreasedSurface& surface,
                                            const std::vector<CreasedSurface::Seam>& seams,
                                            const plane::PlaneMesh& mesh) {
    std::vector<std::optional<OnSeam>> all(mesh.points.size());
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) {
            if (mesh.kind[t][k] != plane::EdgeKind::crease) continue;
            for (const std::int32_t corner : {mesh.triangle[t][k], mesh.triangle[t][(k + 1) % 3]}) {
                auto& on = all[static_cast<std::size_t>(corner)];
                if (on) continue;
                const Vec2& flat = mesh.points[static_cast<std::size_t>(corner)];
                const std::size_t seam = seam_at(seams, flat);
                on = OnSeam{seam, surface.seam_along(seams[seam], flat)};
            }
        }
    return all;
}

/// Edges of the mesh on seams, each once.
std::vector<hull::EdgeOnCad> seam_edges(const plane::PlaneMesh& mesh,
                                        const std::vector<std::optional<OnSeam>>& on) {
    std::map<std::pair<std::int32_t, std::int32_t>, hull::EdgeOnCad> edges;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) {
            if (mesh.kind[t][k] != plane::EdgeKind::crease) continue;
            const auto [from, to] = std::minmax(mesh.triangle[t][k], mesh.triangle[t][(k + 1) % 3]);
            const OnSeam& a = *on[static_cast<std::size_t>(from)];
            const OnSeam& b = *on[static_cast<std::size_t>(to)];
            edges[{from, to}] = {from, to, hull::EdgeId(a.seam), a.along, b.along};
        }
    std::vector<hull::EdgeOnCad> all;
    for (const auto& [ends, edge] : edges) all.push_back(edge);
    return all;
}

/// Keeps of a hull the triangles that hang together with one of them by triangles that are true,
/// and its vertices and edges.
void keep_part(hull::Hull& hull, std::vector<bool> keep, std::size_t start) {
    const auto across = hull::find_neighbours(hull.triangles, hull.vertices.size()).topology.across;
    std::vector<std::size_t> part{start};
    std::vector<std::int32_t> number(hull.vertices.size(), -1);
    keep[start] = false;
    for (std::size_t i = 0; i < part.size(); ++i)
        for (const std::int32_t next : across[part[i]])
            if (next >= 0 && keep[static_cast<std::size_t>(next)]) {
                keep[static_cast<std::size_t>(next)] = false;
                part.push_back(static_cast<std::size_t>(next));
            }
    hull::Hull kept = hull;
    kept.vertices.clear();
    kept.triangles.clear();
    kept.face.clear();
    kept.corner_uv.clear();
    kept.cad_edges.clear();
    std::sort(part.begin(), part.end());
    for (const std::size_t t : part) {
        auto corners = hull.triangles[t];
        for (std::int32_t& v : corners) {
            auto& to = number[static_cast<std::size_t>(v)];
            if (to < 0) {
                to = static_cast<std::int32_t>(kept.vertices.size());
                kept.vertices.push_back(hull.vertices[static_cast<std::size_t>(v)]);
            }
            v = to;
        }
        kept.triangles.push_back(corners);
        kept.face.push_back(hull.face[t]);
        kept.corner_uv.push_back(hull.corner_uv[t]);
    }
    for (hull::EdgeOnCad edge : hull.cad_edges) {
        edge.from = number[static_cast<std::size_t>(edge.from)];
        edge.to = number[static_cast<std::size_t>(edge.to)];
        if (edge.from < 0 || edge.to < 0) continue;
        if (edge.from > edge.to) {
            std::swap(edge.from, edge.to);
            std::swap(edge.parameter_from, edge.parameter_to);
        }
        kept.cad_edges.push_back(edge);
    }
    hull = std::move(kept);
}

/// Where a side turns away from the eye it goes on unseen: the surface ends there.
void end_where_unseen(hull::Hull& hull, const CreasedSurface& surface,
                      const std::vector<Vec2>& flat, double reach) {
    std::vector<bool> seen;
    for (std::size_t v = 0; v < flat.size(); ++v)
        seen.push_back((surface.view().flat(hull.vertices[v]) - flat[v]).norm() <
                           tolerance::crease_step &&
                       (hull.vertices[v] - surface.view().middle).norm() < reach);
    std::vector<bool> keep;
    std::size_t nearest = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        bool whole = true;
        double away = 0.0;
        for (const std::int32_t v : hull.triangles[t]) {
            whole = whole && seen[static_cast<std::size_t>(v)];
            away += flat[static_cast<std::size_t>(v)].norm();
        }
        keep.push_back(whole);
        if (whole && away < least) {
            least = away;
            nearest = t;
        }
    }
    if (std::find(keep.begin(), keep.end(), false) == keep.end()) return;
    keep_part(hull, std::move(keep), nearest);
}

}  // namespace

hull::Hull hull_over(std::shared_ptr<const CreasedSurface> surface, const Loop2& domain,
                     double edge, double outward) {
    const Loop2 rim = stepped(domain, edge);
    const std::vector<CreasedSurface::Seam> seams = surface->seams();
    std::vector<Vec2> inside = points_inside(domain, edge);
    std::erase_if(inside, [&](const Vec2& p) {
        return std::any_of(seams.begin(), seams.end(), [&](const CreasedSurface::Seam& seam) {
            return std::abs(seam.line.left_of(p)) < 0.5 * edge;
        });
    });
    const plane::PlaneMesh mesh =
        plane::triangulate_region(skeleton_of(seams, rim, edge), inside, {rim, {}});
    const auto on = on_seams(*surface, seams, mesh);

    hull::Hull hull;
    std::vector<Vec2> flat = mesh.points;  // seams are drawn as chords: their own places instead
    for (std::size_t v = 0; v < flat.size(); ++v)
        if (on[v])
            flat[v] = surface->view().flat(surface->seam_point(seams[on[v]->seam], on[v]->along));
    hull.vertices.resize(flat.size());
    for (auto corners : mesh.triangle) {
        Vec2 middle(0, 0);
        for (const std::int32_t v : corners) middle += flat[static_cast<std::size_t>(v)] / 3.0;
        const std::size_t face = surface->face_at(middle);
        if (outward < 0.0) std::swap(corners[1], corners[2]);
        std::array<Vec2, 3> uv;
        for (std::size_t k = 0; k < 3; ++k) {
            const auto v = static_cast<std::size_t>(corners[k]);
            uv[k] = surface->parameters(face, flat[v]);
            hull.vertices[v] = on[v] ? surface->seam_point(seams[on[v]->seam], on[v]->along)
                                     : surface->jet(face, uv[k]).position;
        }
        hull.triangles.push_back(corners);
        hull.face.emplace_back(face);
        hull.corner_uv.push_back(uv);
    }
    hull.cad_edges = seam_edges(mesh, on);
    double reach = 0.0;
    for (const Vec2& p : domain) reach = std::max(reach, p.norm());
    constexpr double steepest =
        2.0;  // [-] of the way seen: over 60 degrees from the eye on average
    end_where_unseen(hull, *surface, flat, steepest * reach);
    hull.cad_edge_count = static_cast<std::int32_t>(seams.size());
    hull.report.faces = static_cast<int>(surface->faces());
    hull.report.unit = "mm";
    hull.cad = std::make_shared<CreasedFaces>(std::move(surface));
    return hull;
}

}  // namespace tearline::scan

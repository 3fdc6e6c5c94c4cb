#include "core/scan/creased_face.h"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "core/plane/nearest_on_line.h"
#include "core/plane/triangulate_region.h"
#include "core/scan/grid_points.h"

namespace tearline::scan {

namespace {

/// A face a side, by the parameters of its base; an edge a chine, by how far along its chord.
class CreasedFaces final : public hull::CadFaces {
public:
    explicit CreasedFaces(std::shared_ptr<const CreasedSurface> surface)
        : surface_(std::move(surface)) {}

    [[nodiscard]] hull::FacePoint evaluate(FaceId face, const Vec2& uv) const override {
        const SurfaceJet jet = of(face).jet(uv);
        return {jet.position, jet.du, jet.dv, jet.duu, jet.duv, jet.dvv};
    }
    [[nodiscard]] double outward_sign(FaceId) const override { return 1.0; }
    [[nodiscard]] Vec3 edge_point(hull::EdgeId edge, double along) const override {
        return surface_->crease_point(edge.index(), along).at;
    }
    [[nodiscard]] Vec2 edge_uv(hull::EdgeId edge, FaceId face, double along) const override {
        return of(face).base.foot(edge_point(edge, along)).uv;
    }
    [[nodiscard]] Vec2 edge_uv(hull::EdgeId edge, FaceId face, double along,
                               const Vec2&) const override {
        return edge_uv(edge, face, along);
    }

private:
    [[nodiscard]] const FairSurface& of(FaceId face) const {
        return *surface_->pieces()[face.index()].surface;
    }
    std::shared_ptr<const CreasedSurface> surface_;
};

/// Where a vertex of the mesh lies on a chine.
struct OnCrease {
    std::size_t crease = 0;
    double along = 0.0;  ///< [mm]
};

/// The domain with every chine drawn through it.
plane::Skeleton skeleton_of(const CreasedSurface& surface, const Loop2& rim, double edge) {
    plane::Skeleton skeleton;
    skeleton.points = rim;
    const auto count = static_cast<std::int32_t>(rim.size());
    for (std::int32_t i = 0; i < count; ++i)
        skeleton.edges.push_back({i, (i + 1) % count, plane::EdgeKind::outline});
    for (const CreaseLine& line : surface.creases()) {
        double low = 0.0, high = 0.0;
        for (const Vec2& p : rim) {
            low = std::min(low, line.along(p));
            high = std::max(high, line.along(p));
        }
        // Past the rim at both ends: what lies outside goes with the outside.
        const int parts = std::max(2, static_cast<int>((high - low) / edge) + 1);
        for (int i = -1; i <= parts + 1; ++i) {
            skeleton.points.push_back(line.at(low + (high - low) * i / parts));
            if (i < 0) continue;
            const auto last = static_cast<std::int32_t>(skeleton.points.size()) - 1;
            skeleton.edges.push_back({last - 1, last, plane::EdgeKind::crease});
        }
    }
    return skeleton;
}

std::size_t crease_at(const CreasedSurface& surface, const Vec2& flat) {
    const auto& lines = surface.creases();
    return static_cast<std::size_t>(std::min_element(lines.begin(), lines.end(),
                                                     [&](const CreaseLine& a, const CreaseLine& b) {
                                                         return std::abs(a.left_of(flat)) <
                                                                std::abs(b.left_of(flat));
                                                     }) -
                                    lines.begin());
}

/// The vertices that lie on chines.
std::vector<std::optional<OnCrease>> on_creases(const CreasedSurface& surface,
                                                const plane::PlaneMesh& mesh) {
    std::vector<std::optional<OnCrease>> all(mesh.points.size());
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) {
            if (mesh.kind[t][k] != plane::EdgeKind::crease) continue;
            for (const std::int32_t corner : {mesh.triangle[t][k], mesh.triangle[t][(k + 1) % 3]}) {
                const Vec2& flat = mesh.points[static_cast<std::size_t>(corner)];
                const std::size_t crease = crease_at(surface, flat);
                all[static_cast<std::size_t>(corner)] =
                    OnCrease{crease, surface.creases()[crease].along(flat)};
            }
        }
    return all;
}

/// Edges of the mesh on chines, each once.
std::vector<hull::EdgeOnCad> crease_edges(const plane::PlaneMesh& mesh,
                                          const std::vector<std::optional<OnCrease>>& on) {
    std::map<std::pair<std::int32_t, std::int32_t>, hull::EdgeOnCad> edges;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) {
            if (mesh.kind[t][k] != plane::EdgeKind::crease) continue;
            const auto [from, to] = std::minmax(mesh.triangle[t][k], mesh.triangle[t][(k + 1) % 3]);
            const OnCrease& a = *on[static_cast<std::size_t>(from)];
            const OnCrease& b = *on[static_cast<std::size_t>(to)];
            edges[{from, to}] = {from, to, hull::EdgeId(a.crease), a.along, b.along};
        }
    std::vector<hull::EdgeOnCad> all;
    for (const auto& [ends, edge] : edges) all.push_back(edge);
    return all;
}

}  // namespace

hull::Hull hull_over(std::shared_ptr<const CreasedSurface> surface, const Loop2& domain,
                     double edge, double outward) {
    const Loop2 rim = stepped(domain, edge);
    std::vector<Vec2> inside = points_inside(domain, edge);
    std::erase_if(inside, [&](const Vec2& p) {
        return std::any_of(
            surface->creases().begin(), surface->creases().end(),
            [&](const CreaseLine& line) { return std::abs(line.left_of(p)) < 0.5 * edge; });
    });
    const plane::PlaneMesh mesh =
        plane::triangulate_region(skeleton_of(*surface, rim, edge), inside, {rim, {}});
    const auto on = on_creases(*surface, mesh);

    hull::Hull hull;
    hull.vertices.resize(mesh.points.size());
    for (std::size_t v = 0; v < mesh.points.size(); ++v)
        if (on[v]) hull.vertices[v] = surface->crease_point(on[v]->crease, on[v]->along).at;
    for (auto corners : mesh.triangle) {
        Vec2 middle(0, 0);
        for (const std::int32_t v : corners)
            middle += mesh.points[static_cast<std::size_t>(v)] / 3.0;
        const std::size_t piece = surface->piece_at(middle);
        const FairSurface& own = *surface->pieces()[piece].surface;
        if (outward < 0.0) std::swap(corners[1], corners[2]);
        std::array<Vec2, 3> uv;
        for (std::size_t k = 0; k < 3; ++k) {
            const auto v = static_cast<std::size_t>(corners[k]);
            uv[k] = on[v] ? own.base.foot(hull.vertices[v]).uv
                          : surface->parameters(piece, mesh.points[v]);
            if (!on[v]) hull.vertices[v] = own.point(uv[k]);
        }
        hull.triangles.push_back(corners);
        hull.face.emplace_back(piece);
        hull.corner_uv.push_back(uv);
    }
    hull.cad_edges = crease_edges(mesh, on);
    hull.cad_edge_count = static_cast<std::int32_t>(surface->creases().size());
    hull.report.faces = static_cast<int>(surface->pieces().size());
    hull.report.unit = "mm";
    hull.cad = std::make_shared<CreasedFaces>(std::move(surface));
    return hull;
}

}  // namespace tearline::scan

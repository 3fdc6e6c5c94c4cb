#include "core/scan/fair_face.h"

#include <stdexcept>
#include <utility>

#include "core/plane/triangulate_region.h"
#include "core/scan/grid_points.h"

namespace tearline::scan {

namespace {

class FairFace final : public hull::CadFaces {
public:
    explicit FairFace(std::shared_ptr<const FairSurface> surface) : surface_(std::move(surface)) {}

    [[nodiscard]] hull::FacePoint evaluate(FaceId, const Vec2& uv) const override {
        const SurfaceJet jet = surface_->jet(uv);
        return {jet.position, jet.du, jet.dv, jet.duu, jet.duv, jet.dvv};
    }
    [[nodiscard]] double outward_sign(FaceId) const override { return 1.0; }
    // Its rim is where the scan ends, and no edge of a model.
    [[nodiscard]] Vec3 edge_point(hull::EdgeId, double) const override { no_edge(); }
    [[nodiscard]] Vec2 edge_uv(hull::EdgeId, FaceId, double) const override { no_edge(); }
    [[nodiscard]] Vec2 edge_uv(hull::EdgeId, FaceId, double, const Vec2&) const override {
        no_edge();
    }

private:
    [[noreturn]] static void no_edge() { throw std::logic_error("FairFace: it has no edge"); }

    std::shared_ptr<const FairSurface> surface_;
};

}  // namespace

std::shared_ptr<const hull::CadFaces> face_of(std::shared_ptr<const FairSurface> surface) {
    return std::make_shared<FairFace>(std::move(surface));
}

hull::Hull hull_over(std::shared_ptr<const FairSurface> surface, const Loop2& domain, double edge,
                     double outward) {
    const Loop2 rim = stepped(domain, edge);
    plane::Skeleton skeleton;
    skeleton.points = rim;
    const auto count = static_cast<std::int32_t>(rim.size());
    for (std::int32_t i = 0; i < count; ++i)
        skeleton.edges.push_back({i, (i + 1) % count, plane::EdgeKind::outline});
    const plane::PlaneMesh mesh =
        plane::triangulate_region(skeleton, points_inside(domain, edge), {rim, {}});
    hull::Hull hull;
    for (const Vec2& uv : mesh.points) hull.vertices.push_back(surface->point(uv));
    for (auto corners : mesh.triangle) {
        if (outward < 0.0) std::swap(corners[1], corners[2]);
        hull.triangles.push_back(corners);
        hull.face.emplace_back(0);
        std::array<Vec2, 3> uv;
        for (std::size_t k = 0; k < 3; ++k)
            uv[k] = mesh.points[static_cast<std::size_t>(corners[k])];
        hull.corner_uv.push_back(uv);
    }
    hull.cad = face_of(std::move(surface));
    hull.report.faces = 1;
    hull.report.unit = "mm";
    return hull;
}

}  // namespace tearline::scan

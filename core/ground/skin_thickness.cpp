#include "core/ground/skin_thickness.h"

#include <algorithm>
#include <limits>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/surface/patch_index.h"

namespace tearline::ground {

namespace {

/// [mm] less is within what a yard measures a skin to.
constexpr double skin_differs = 0.5;

using Facets = std::vector<std::array<Vec3, 3>>;

struct Nearest {
    std::size_t facet = 0;
    double distance = std::numeric_limits<double>::infinity();  ///< [mm]
};

Nearest nearest_facet(const Facets& facets, const Vec3& point) {
    Nearest best;
    for (std::size_t t = 0; t < facets.size(); ++t) {
        const auto& c = facets[t];
        const Vec3 low = c[0].cwiseMin(c[1]).cwiseMin(c[2]);
        const Vec3 high = c[0].cwiseMax(c[1]).cwiseMax(c[2]);
        if ((low - point).cwiseMax(point - high).maxCoeff() > best.distance) continue;
        const Vec3 w = surface::nearest_weights(c, point);
        const double distance = (w[0] * c[0] + w[1] * c[1] + w[2] * c[2] - point).norm();
        if (distance < best.distance) best = {t, distance};
    }
    return best;
}

Facets facets_of(const hull::Hull& hull) {
    Facets facets;
    facets.reserve(hull.triangles.size());
    for (const auto& t : hull.triangles)
        facets.push_back({hull.vertices[t[0]], hull.vertices[t[1]], hull.vertices[t[2]]});
    return facets;
}

}  // namespace

std::optional<MeasuredSkin> measured_skin(const hull::Hull& hull, const Vec3& place) {
    if (hull.other_face.empty()) return std::nullopt;
    const Facets own = facets_of(hull);
    const auto& here = own[nearest_facet(own, place).facet];
    const auto& there = hull.other_face[nearest_facet(hull.other_face, place).facet];
    MeasuredSkin apart{std::numeric_limits<double>::infinity(), 0.0};
    const auto add = [&](double distance) {
        apart.least = std::min(apart.least, distance);
        apart.most = std::max(apart.most, distance);
    };
    for (const Vec3& corner : here) add(nearest_facet(hull.other_face, corner).distance);
    for (const Vec3& corner : there) add(nearest_facet(own, corner).distance);
    return apart;
}

Warnings check_skin(const job::Job& job, const hull::Hull& hull, const Vec3& place) {
    if (!job.hull.skin) return {};
    const auto apart = measured_skin(hull, place);
    if (!apart) return {};
    const double skin = *job.hull.skin;
    if (!(skin < apart->least - skin_differs || skin > apart->most + skin_differs)) return {};
    return {{.cause = warn::SkinDiffers{skin, apart->least, apart->most}, .at = place}};
}

}  // namespace tearline::ground

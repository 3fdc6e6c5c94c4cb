#include "core/plies/lay_surface.h"

#include <cmath>
#include <numbers>

#include "core/base/length_text.h"
#include "core/parallel/parallel_surface.h"
#include "core/plies/tolerances.h"
#include "core/surface/across.h"
#include "core/surface/mesh_parts.h"

namespace tearline::plies {
namespace {

/// What the user must know of a crease: where, how sharp, and what it does to the cloth.
Warning crease_warning(const parallel::CreaseMet& met) {
    const warn::CreaseMet crease{met.turn > 0.0, std::abs(met.turn) * 180.0 / std::numbers::pi,
                                 met.at};
    if (met.trimmed > 0.0) return {.cause = warn::CreaseTrimmed{crease, met.trimmed}, .at = met.at};
    return {.cause = warn::CreaseOpened{crease, std::abs(met.depth), met.opened}, .at = met.at};
}

/// Refuses when the strips that hold the middle take much of the ply.
Result<void> check_middle(const parallel::ParallelSurface& lay, const RegionMesh& region,
                          const Vec2& middle, Warnings& warnings) {
    double whole = 0.0;
    for (const auto& v : region.mesh.triangle)
        whole += 0.5 * cross2(region.chart[v[1]] - region.chart[v[0]],
                              region.chart[v[2]] - region.chart[v[0]]);
    for (const Loop2& strip : lay.trimmed) {
        if (!contains(strip, middle)) continue;
        if (std::abs(signed_area(strip)) > tolerance::trimmed_share * whole)
            return no_safe_answer(
                "the sheets beside a crease meet over the middle of the damage and leave too "
                "little of the ply at its depth: make the repair shallower, round the crease off, "
                "or lay from the other side");
        warnings.push_back({warn::MiddleOnCrease{}});
        break;
    }
    return {};
}

}  // namespace

Result<LaySurface> lay_surface(const surface::Patch& patch, const RegionMesh& region,
                               const LayDepth& depth, const Vec2& middle) {
    auto lay = parallel::parallel_surface(
        {region.mesh, region.chart, region.crease, parallel::sheet_at_chart(patch)}, depth);
    if (!lay) return tl::unexpected(lay.error());
    LaySurface out;
    if (const auto checked = check_middle(*lay, region, middle, out.warnings); !checked)
        return tl::unexpected(checked.error());
    const std::size_t parts = surface::count_parts(lay->across);
    if (parts > 1 && parts > surface::count_parts(region.mesh))
        return no_safe_answer(
            "at the ply's depth the sheets of a crease meet and split the ply in parts" +
            (lay->creases.empty() ? std::string()
                                  : " near " + place_text(lay->creases.front().at) + " mm") +
            ": make the repair shallower or move its edge off the crease");
    for (const parallel::CreaseMet& met : lay->creases)
        if (met.trimmed > 0.0 || met.opened > 0.0) out.warnings.push_back(crease_warning(met));
    out.area = surface::curved_area(lay->mesh, lay->across);
    out.mesh = std::move(lay->mesh);
    out.base = std::move(lay->base);
    out.chart = std::move(lay->chart);
    out.corner_chart = std::move(lay->corner_chart);
    out.crease = std::move(lay->crease);
    return out;
}

}  // namespace tearline::plies

#include "core/parallel/parallel_surface.h"
#include "core/parallel/trim_strip.h"
#include "core/surface/patch.h"

namespace tearline::parallel {

SurfaceAtChart sheet_at_chart(const surface::Patch& patch) {
    return [&patch](const Vec2& chart) -> std::optional<SheetPoint> {
        const auto at = patch.locate(chart);
        if (!at) return std::nullopt;
        const surface::SurfaceSample sample = patch.sample(*at);
        return SheetPoint{sample.position, sample.normal,
                          chart_carry(patch.mesh, patch.chart, at->triangle)};
    };
}

}  // namespace tearline::parallel

#include "core/serve/live_outline.h"

#include <utility>

#include "core/base/tolerances.h"
#include "core/damage/damage_outline.h"
#include "core/dish/offset_sweep.h"
#include "core/ground/ground.h"
#include "core/ground/sounded_depth.h"
#include "core/patch/build_patch.h"
#include "core/plies/net_region.h"
#include "core/plies/ply_levels.h"
#include "core/serve/tolerances.h"

namespace tearline::serve {

namespace {

Result<DraftOutline> draw_on(const surface::Patch& patch, const job::Job& job, double scarf) {
    const auto outline = damage::damage_outline(patch, job.damage, job.hull.bow, job.hull.up);
    if (!outline) return tl::unexpected(outline.error());
    const std::vector<double> offsets{0.0, scarf};
    const auto regions = plies::net_regions(patch, *outline, offsets);
    if (!regions) return tl::unexpected(regions.error());
    DraftOutline draft;
    for (const damage::OutlinePoint& point : outline->points)
        draft.outline.push_back(point.position);
    draft.scarf = regions->back().on_base;
    draft.frame = damage::flat_frame(patch, *outline, job.hull.bow, job.hull.up);
    return draft;
}

}  // namespace

Result<DraftOutline> LiveOutline::draw(const job::Job& asked, const hull::Hull& hull) {
    const auto deep = ground::with_depth(asked, hull);
    if (!deep) return tl::unexpected(deep.error());
    const job::Job& job = *deep;
    const auto levels = plies::ply_levels(job);
    if (!levels) return tl::unexpected(levels.error());
    const double scarf = levels->dish.back().x();
    if (patch_ && skin_ == job.hull.skin.value_or(0.0))
        if (auto draft = draw_on(*patch_, job, scarf)) return draft;
    // Beyond the kept patch, or really at fault: a patch about this outline tells which.
    patch::PatchRequest request =
        patch::patch_request(job, scarf + tolerance::patch_margin + tolerance::drag_room);
    request.model_surface = hull.surface;
    auto patch = patch::build_patch(hull, request);
    if (!patch) return tl::unexpected(patch.error());
    patch_ = std::move(*patch);
    skin_ = job.hull.skin.value_or(0.0);
    return draw_on(*patch_, job, scarf);
}

}  // namespace tearline::serve

#include "core/plan/parts.h"

#include <utility>

#include "core/base/numbers.h"
#include "core/closing/ring_stack.h"
#include "core/ground/grown_outline.h"
#include "core/job/sides.h"

namespace tearline::plan {

namespace {

/// Sides on the model's other face have the damage as it comes out there.
Result<std::vector<job::Job>> sides(const job::Job& job, const hull::Hull& hull) {
    std::vector<job::Job> out = job::sides_of(job);
    if (out.size() < 2) return out;
    // What is ground off the first side's back must leave it standing.
    if (!(job.scarf.grind_back < 0.5 * out.front().damage.depth))
        return bad_input("scarf.grind_back",
                         shortest(job.scarf.grind_back) + " mm: the side laid first is only " +
                             fixed(out.front().damage.depth, 1) +
                             " mm thick, and half of it at least must stay; grind back less, or "
                             "change scarf.share");
    // Over the hull's end goes what is laid last, and so over what was laid before.
    for (std::size_t i = 0; i + 1 < out.size(); ++i) out[i].damage.at_end = job::AtEnd::cut;
    job::Job on_model = job;
    on_model.damage.side = hull.surface;
    for (job::Job& side : out) {
        if (side.damage.side == hull.surface) continue;
        auto points = ground::grown_outline(on_model, hull, 0.0);
        if (!points) return tl::unexpected(points.error());
        side.damage = ground::carried_to(side.damage, std::move(*points), job.hull.skin.value());
    }
    return out;
}

/// The skin under the hand, and before it the one behind the core where that is damaged.
Result<std::vector<job::Job>> skins(const job::Job& job, const hull::Hull& hull) {
    const job::Core& core = *job.core;
    const job::Side side = job.damage.side;
    const job::Reaches reaches = job.damage.reaches.value();
    const auto rings = closing::ring_stack(reaches, side, core, job.scarf.ratio);
    const bool outside = side == job::Side::outside;

    job::Job near = job;
    near.damage.depth = closing::near_skin(core, side);
    near.layup = (outside ? job.layup_outer : job.layup_inner).value();
    near.layup.copies = job.layup.copies;
    near.part.name = outside ? "outer skin" : "inner skin";
    near.part.on_new = closing::reaches_core(reaches, side);

    job::Job far = job;
    far.damage.depth = closing::far_skin(core, side);
    far.damage.carried = near.damage.depth + core.thickness;
    far.part.below = far.damage.carried;
    far.part.name = outside ? "inner skin" : "outer skin";
    far.part.on_new = true;
    far.damage.at_end = job::AtEnd::cut;  // the core is filled solid there, and both skins meet
    if (job.damage.centre) {
        auto points = ground::grown_outline(near, hull, 0.0);
        if (!points) return tl::unexpected(points.error());
        far.damage = ground::carried_to(far.damage, std::move(*points), far.part.below);
    }
    const bool both = closing::reaches_far_skin(reaches, side);
    if (rings.core_top > 0.0) {
        auto points = ground::grown_outline(both ? far : near, hull, rings.core_top);
        if (!points) return tl::unexpected(points.error());
        near.damage =
            ground::carried_to(near.damage, std::move(*points), both ? far.part.below : 0.0);
    }
    if (!both) return std::vector<job::Job>{std::move(near)};
    const auto& own = outside ? job.layup_inner : job.layup_outer;
    far.layup = own.value();
    far.layup.copies = job.layup.copies;
    far.layup.cover.clear();
    far.shop.fairing_skim = 0.0;
    far.part.covered = true;
    return std::vector<job::Job>{std::move(far), std::move(near)};
}

}  // namespace

Result<std::vector<job::Job>> parts_of(const job::Job& job, const hull::Hull& hull) {
    const bool into_core =
        job.core && closing::reaches_core(job.damage.reaches.value(), job.damage.side);
    if ((into_core || job.damage.through) && !job.damage.openings.empty())
        return bad_input("damage.opening",
                         "a fitting cannot stay in a hole that is cut right through, or in a core "
                         "that is taken back about it: take it out, and bed it anew when all is "
                         "cured");
    return job.core ? skins(job, hull) : sides(job, hull);
}

}  // namespace tearline::plan

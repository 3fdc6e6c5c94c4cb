#include "core/closing/ring_stack.h"

#include <algorithm>

namespace tearline::closing {

double far_skin(const job::Core& core, job::Side side) {
    return side == job::Side::outside ? core.inner : core.outer;
}

double near_skin(const job::Core& core, job::Side side) {
    return side == job::Side::outside ? core.outer : core.inner;
}

bool reaches_far_skin(job::Reaches reaches, job::Side side) {
    return reaches ==
           (side == job::Side::outside ? job::Reaches::inner_skin : job::Reaches::outer_skin);
}

bool reaches_core(job::Reaches reaches, job::Side side) {
    return reaches == job::Reaches::core || reaches_far_skin(reaches, side);
}

RingStack ring_stack(job::Reaches reaches, job::Side side, const job::Core& core, double ratio) {
    RingStack rings;
    if (reaches_far_skin(reaches, side)) {
        rings.far_scarf = ratio * far_skin(core, side);
        rings.core_bottom = std::max(least_free_skin, rings.far_scarf + core.guard);
    }
    if (!reaches_core(reaches, side)) {
        rings.near_scarf = ratio * near_skin(core, side);
        return rings;
    }
    if (core.wet_edge)
        rings.core_bottom = std::max(rings.core_bottom, *core.wet_edge + core.wet_margin);
    rings.core_top = rings.core_bottom + core.chamfer * core.thickness;
    rings.near_scarf = rings.core_top + ratio * near_skin(core, side);
    return rings;
}

}  // namespace tearline::closing

#include "core/job/sides.h"

#include <string>
#include <utility>

namespace tearline::job {

namespace {

/// One side of a hole laid from both.
Job side_of(const Job& job, Side side) {
    const double skin = job.hull.skin.value();
    const double share = side == Side::outside ? job.scarf.share : 1.0 - job.scarf.share;
    const bool second = side != job.scarf.first;
    Job out = job;
    out.damage.side = side;
    out.damage.depth = share * skin + (second ? job.scarf.grind_back : 0.0);
    if (side == Side::inside && job.layup_inside) out.layup = *job.layup_inside;
    out.layup.copies = job.layup.copies;
    // A place picked on the other face says nothing of this one.
    if (side == Side::inside && !job.layup_inside) out.layup.press_first.reset();
    out.part.name = std::string("from ") + side_word(side);
    out.part.on_new = true;
    return out;
}

}  // namespace

const char* side_word(Side side) {
    return side == Side::outside ? "outside" : "inside";
}

bool backing_stays_by_default(const Job& job) {
    return job.scarf.from != ScarfFrom::both;
}

bool against_mould(const Job& job) {
    return job.damage.through && job.scarf.from == ScarfFrom::inside && !job.core &&
           job.resin.kind != ResinKind::epoxy && job.backing && !job.backing->stays.value_or(true);
}

std::vector<Job> sides_of(const Job& job) {
    if (!job.damage.through) return {job};
    if (job.scarf.from != ScarfFrom::both) {
        Job whole = job;
        whole.damage.depth = job.hull.skin.value();
        if (against_mould(job)) {
            // Gel coat lies on the mould first, and the glass ends lower by it; then a skin coat.
            whole.damage.depth -= job.topcoat.thickness;
            whole.part.skin_coat = true;
        }
        whole.part.on_new = true;
        return {std::move(whole)};
    }
    const Side second = job.scarf.first == Side::inside ? Side::outside : Side::inside;
    return {side_of(job, job.scarf.first), side_of(job, second)};
}

}  // namespace tearline::job

#pragma once
#include <vector>

#include "core/boat/boat.h"

namespace tearline::boat {

/// Refuses places that lie on one another: where their ground does, whatever the job says, and
/// where covers or torn bands do unless the job allows it. Gives those that it allows and that are
/// not refused for another: the second, later in the job file, waits for the first to cure.
///
/// Ground on opposite faces of the skin, one over the other, is refused too: what stands between
/// was judged for each as if the other were sound.
[[nodiscard]] PairsThatMeet refuse_overlaps(std::vector<Repair>& repairs, bool allow_overlap);

}  // namespace tearline::boat

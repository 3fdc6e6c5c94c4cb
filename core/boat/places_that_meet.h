#pragma once
#include <vector>

#include "core/boat/boat.h"

namespace tearline::boat {

/// Refuses places that lie on one another: where their ground does, whatever the job says, and
/// where covers or torn bands do unless the job allows it. Told of those that it allows.
///
/// Ground on opposite faces of the skin, one over the other, is refused too: what stands between
/// was judged for each as if the other were sound.
[[nodiscard]] std::vector<ToldOf> refuse_overlaps(std::vector<Repair>& repairs, bool allow_overlap);

}  // namespace tearline::boat

#pragma once
#include <vector>

#include "core/base/units.h"
#include "core/templates/fold_lines.h"

namespace tearline::ground {
struct Ground;
}

namespace tearline::plan {

/// The lines where the finished face leaves the hull's end and where its bend ends, with what is
/// said of them on templates, or on the grind guide; none where no cloth goes over it.
[[nodiscard]] std::vector<templates::FoldRequest> fold_lines(const ground::Ground& ground,
                                                             Units units, bool on_guide = false);

}  // namespace tearline::plan

#pragma once
#include <vector>

#include "core/paper/print_layout.h"

namespace tearline::paper {

/// Spreads what is larger than a page over several, then packs the rest into the room left and
/// into as few further pages as it finds. The first drawing stands on the first page.
[[nodiscard]] std::vector<Assembly> pack_pages(const std::vector<Drawing>& drawings,
                                               const Paper& paper, double print_scale);

}  // namespace tearline::paper

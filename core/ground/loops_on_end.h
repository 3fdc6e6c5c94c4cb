#pragma once
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/patch/lapped_patch.h"

namespace tearline::ground {

/// A stretch of a region's outer edge that lies on the hull's own end.
struct LoopOnEnd {
    std::size_t first = 0, count = 0;  ///< points of the outer loop from `first` on, going round
    patch::EndSpan span;
};

/// The stretches of a region's edge that lie on the hull's end, in the order of the edge.
///
/// @param narrowest  [mm] stretches shorter than this are left out: nobody laps so narrow a tongue
/// @error no_safe_answer  a stretch goes over a corner of the end, or the region goes all round an
///                        opening
[[nodiscard]] Result<std::vector<LoopOnEnd>> loops_on_end(const Region2& region,
                                                          const std::vector<patch::EndRun>& runs,
                                                          const surface::Patch& patch,
                                                          double narrowest);

/// A region with what lies up to `v` mm over the hull's end beyond its stretches.
[[nodiscard]] Region2 over_end(const Region2& region, const std::vector<LoopOnEnd>& stretches,
                               const patch::LappedPatch& over, double v);

}  // namespace tearline::ground

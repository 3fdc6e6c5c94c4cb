#pragma once
#include <vector>

#include "core/base/outline.h"
#include "core/dish/offset_sweep.h"
#include "core/surface/patch.h"

namespace tearline::plies {

/// Judges holes of net regions by a distance field that knows nothing of rays: rays place a
/// region's edge, the field decides whether a hole is one.
class FalseHoles {
public:
    FalseHoles(const surface::Patch& patch, const dish::OffsetSweep& sweep)
        : patch_(patch), sweep_(sweep) {}

    /// Whether all of a hole lies within `offset` [mm] of the damage outline, so that only the rays
    /// have missed it: beyond a sharp edge they may part. An opening of the hull is none of these.
    [[nodiscard]] bool covers(const Loop2& hole, double offset);

private:
    [[nodiscard]] bool holds_opening(const Loop2& hole) const;
    void march();

    const surface::Patch& patch_;
    const dish::OffsetSweep& sweep_;
    std::vector<double> distance_;  ///< [mm] per vertex of the patch; empty until it is asked for
};

}  // namespace tearline::plies

#pragma once
#include <optional>
#include <vector>

#include "core/plies/net_region.h"

namespace tearline::plies {

/// A place of the hull's end that looks like the cut of a half hull.
struct CentrelineCut {
    Vec3 at{0, 0, 0};  ///< [mm] on the end, within the region
};

/// Whether a region is cut where the hull ends in a plane that holds bow and up (DEFINITIONS.md,
/// Edges): then only the user knows whether the other half is missing or the edge is real.
///
/// The end is followed from the region to its corners.
/// @param bow,up  directions, not parallel
/// @return        a place on that end; nothing where no such end cuts the region
[[nodiscard]] std::optional<CentrelineCut> centreline_cut(const surface::Patch& patch,
                                                          const NetRegion& region, const Vec3& bow,
                                                          const Vec3& up);

}  // namespace tearline::plies

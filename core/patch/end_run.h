#pragma once
#include <vector>

#include "core/surface/patch.h"

namespace tearline::patch {

/// A run of the hull's own end along a patch's rim, smooth all along: it stops at corners, where a
/// crease runs out over the end, and where the patch was cropped.
struct EndRun {
    std::vector<std::int32_t> vertex;  ///< two or more, the hull to the left
    std::vector<Vec2> chart;           ///< [mm] of each
    std::vector<Vec3> normal;          ///< unit, of the hull there, towards the laying side
};

/// The runs of a patch's hull end.
///
/// @param far_from  [mm] an end that goes all round without a corner begins far from here
[[nodiscard]] std::vector<EndRun> end_runs(const surface::Patch& patch, const Vec3& far_from);

}  // namespace tearline::patch

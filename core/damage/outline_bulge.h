#pragma once
#include "core/base/outline.h"
#include "core/warnings/warning.h"

namespace tearline::damage {

/// Warns where a smooth outline lies farther than a tenth of its points' extent outside the
/// straight lines from point to point: few points round a damage with corners make it take in sound
/// hull.
///
/// @param picks  [mm] in the chart, in order; none for a disc or an ellipse
/// @param drawn  [mm] the smooth outline through them, in the chart
[[nodiscard]] Warnings bulge_warnings(const Loop2& picks, const Loop2& drawn);

}  // namespace tearline::damage

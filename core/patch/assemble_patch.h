#pragma once
#include "core/base/result.h"
#include "core/patch/crop_hull.h"
#include "core/surface/carried_surface.h"
#include "core/surface/patch.h"

namespace tearline::patch {

/// Makes a patch from a finished mesh on the base surface: turned to the laying side, with normals,
/// arcs, creases, chart and search structures.
///
/// @param sign  +1 laid from outside, -1 from inside
/// @error no_safe_answer  not a disc with openings
[[nodiscard]] Result<surface::Patch> assemble_patch(const CroppedHull& cropped, double sign);

}  // namespace tearline::patch

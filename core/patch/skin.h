#pragma once
#include "core/base/result.h"
#include "core/patch/crop_hull.h"

namespace tearline::patch {

/// Moves a mesh and the surface behind it by the skin: from the model's face to the face that the
/// repair is laid on.
///
/// Along creases both sides move and meet anew: the mesh is moved a little at a time and mended in
/// between, so that what the one side loses is trimmed off.
/// @param sign  +1 moves outward, -1 inward
/// @error no_safe_answer  a radius smaller than the skin
[[nodiscard]] Result<void> move_by_skin(CroppedHull& cropped, double sign, double skin);

}  // namespace tearline::patch

#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"

namespace tearline::hull {

/// One face of a CAD model as a hull of its own, parted along its seam where it closes on itself: a
/// whole cone is then a surface with two edges, which opens to a sector.
///
/// @param number  of the face as the model counts them, from 1
/// @error bad_input  the model has no such face
[[nodiscard]] Result<Hull> face_alone(const Hull& hull, int number);

}  // namespace tearline::hull

#pragma once
#include "core/patch/crop_hull.h"
#include "core/patch/told_end.h"

namespace tearline::patch {

/// Cuts a mesh of the hull at the end that was told, and takes away what lies beyond it.
///
/// The cut is the hull's own end from there on: the foot of the line on the surface.
/// @param inside  [mm] a place of the damage: the hull lies on its side of the line, or where this
///                is nearer to the line than a pick is off, where more of the mesh lies
/// @pre  the mesh is as fine as the line bends
void cut_at_told_end(CroppedHull& hull, const ToldEnd& end, const Vec3& inside);

}  // namespace tearline::patch

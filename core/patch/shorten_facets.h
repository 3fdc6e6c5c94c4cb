#pragma once
#include "core/patch/crop_hull.h"

namespace tearline::patch {

/// Cuts facets that are many times as long as the ball and lets go what of them lies outside it.
/// A straight side or corner has facets from end to end: meshed evenly, all of its length would be
/// meshed for a repair in the middle.
///
/// @param seed  [mm] the part that holds it stays
void shorten_facets(CroppedHull& cropped, const Vec3& centre, double radius, const Vec3& seed);

}  // namespace tearline::patch

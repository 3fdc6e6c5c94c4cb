#pragma once
#include <string>
#include <vector>

#include "core/damage/flat_frame.h"
#include "core/surface/patch.h"
#include "core/templates/directions.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// The base surface where the plane through a point, along an axis and the normal, cuts it.
///
/// @param axis    unit, square to `normal`
/// @return  [mm] places along the axis with the height towards the laying side, from the point,
///          rising along the axis as far as the patch goes and the surface does not turn back;
///          each on the exact surface, chords a quarter of a triangle long
[[nodiscard]] std::vector<Vec2> section_edge(const surface::Patch& patch, const Vec3& middle,
                                             const Vec3& normal, const Vec3& axis);

/// The sections along the flat frame's two axes through the middle of the damage.
[[nodiscard]] std::vector<Section> make_sections(const surface::Patch& patch,
                                                 const damage::FlatFrame& frame,
                                                 const Directions& directions);

}  // namespace tearline::templates

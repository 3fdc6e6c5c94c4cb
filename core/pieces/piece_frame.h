#pragma once
#include "core/pieces/piece.h"
#include "core/surface/patch.h"

namespace tearline::pieces {

/// Turns and moves the flat piece into the frame that every template shares (DEFINITIONS.md,
/// Flat frame): at its point nearest the middle of the damage the direction y points along +y, and
/// that point becomes the origin. Notes where fibre axes are counted from.
///
/// @param middle        [mm] the middle of the damage in the patch's chart
/// @param y, axis_from  directions in space, along the surface at the middle
/// @param normal        of the surface at the middle
void turn_to_frame(Piece& piece, const Vec2& middle, const Vec3& y, const Vec3& axis_from,
                   const Vec3& normal);

/// The direction on the flat piece of a direction in space, at a place of the piece; unit.
///
/// Its tangential part counts; where there is next to none, since the surface has turned by a right
/// angle on the way, what lies square to it on its left is followed instead.
/// @param normal  of the surface where the direction runs along it
[[nodiscard]] Vec2 flat_direction(const Piece& piece, const surface::Location& at,
                                  const Vec3& direction, const Vec3& normal);

}  // namespace tearline::pieces

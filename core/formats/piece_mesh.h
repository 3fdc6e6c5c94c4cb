#pragma once
#include <string>

#include "core/pieces/piece.h"
#include "core/plan/plan.h"

namespace tearline::formats {

/// A piece vertex by vertex, for pictures in a CAD program: one JSON line that names the arrays,
/// then their bytes, little-endian, each starting at a multiple of 8 from the start of the file.
///
/// Arrays: lay xyz, base xyz, xy (float64), triangles (int32), and principal strains or shear in
/// degrees per triangle (float64).
[[nodiscard]] std::string piece_mesh(const pieces::Piece& piece);

/// The dish in the same form. Arrays: base xyz, depth (float64), triangles (int32).
[[nodiscard]] std::string dish_mesh(const plan::DishView& dish);

}  // namespace tearline::formats

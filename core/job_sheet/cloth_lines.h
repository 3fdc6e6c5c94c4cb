#pragma once
#include <array>
#include <vector>

#include "core/job/job.h"
#include "core/pieces/piece.h"

namespace tearline::job_sheet {

/// Short stretches of the yarns of a piece of cloth, every so far one, on the base surface [mm].
///
/// On the flat piece they are straight; on the hull they show how the cloth shears.
/// @param spacing  [mm] > 0 between the yarns, counted from the place pressed down first
[[nodiscard]] std::vector<std::array<Vec3, 2>> yarns_on_hull(const pieces::Piece& piece,
                                                             job::FabricKind kind, double spacing);

/// The same yarns on the flat piece, each one straight from edge to edge of its box.
[[nodiscard]] std::vector<std::array<Vec2, 2>> yarns_flat(const pieces::Piece& piece,
                                                          job::FabricKind kind, double spacing);

/// The seams of a piece, its own part of them, and its relief cuts from mouth to tip, on the base
/// surface [mm].
[[nodiscard]] std::vector<std::vector<Vec3>> seams_on_hull(const pieces::Piece& piece);
[[nodiscard]] std::vector<std::vector<Vec3>> cuts_on_hull(const pieces::Piece& piece);

}  // namespace tearline::job_sheet

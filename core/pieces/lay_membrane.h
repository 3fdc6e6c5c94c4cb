#pragma once
#include <string>

#include "core/base/result.h"
#include "core/pieces/piece.h"
#include "core/plies/lay_surface.h"

namespace tearline::pieces {

/// A piece with its membrane flattening: the flat mat, or the picture that cloth is followed in.
struct Membrane {
    Piece piece;
    double energy = 0.0;  ///< [mm2]
    double area = 0.0;    ///< [mm2]
};

/// @error no_safe_answer  the surface is in several parts or closed, or turns over when laid flat
[[nodiscard]] Result<Membrane> lay_membrane(const plies::LaySurface& lay, std::string id);

/// @error no_safe_answer  the flat piece lies on itself elsewhere than beside its slits
[[nodiscard]] Result<void> check_overlap(const Piece& piece);

/// @param place  [mm]
[[nodiscard]] tl::unexpected<Error> refused(const Piece& piece, std::string what,
                                            std::optional<Vec3> place = {});

}  // namespace tearline::pieces

#pragma once
#include <optional>

#include "core/base/result.h"
#include "core/pieces/piece.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// A slit from the hole round a fitting to the edge of a piece.
struct OpeningSlit {
    ReliefCut cut;
    double degrees = 0.0;  ///< its direction on paper, counter-clockwise from x
};

/// The slit that lets a piece pass a stem: straight from the hole about `middle` outwards, past no
/// other hole.
///
/// @param middle  [mm] of the opening, on the hull
/// @param before  [deg] of the slit of the ply under this one: this one lies 90 degrees or more
///                from it
/// @return        nothing where the piece has no hole there: its edge passes the fitting
/// @error no_safe_answer  other holes are in the way all round
[[nodiscard]] Result<std::optional<OpeningSlit>> opening_slit(const pieces::Piece& piece,
                                                              const Template& outline,
                                                              const Vec3& middle,
                                                              const std::optional<double>& before);

}  // namespace tearline::templates

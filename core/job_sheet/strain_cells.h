#pragma once
#include <string>

#include "core/job_sheet/hull_picture.h"
#include "core/pieces/piece.h"

namespace tearline::job_sheet {

/// Strain (or shear) of each triangle, as a share of the top of the scale.
struct StrainScale {
    double strain_top = 0.01;  ///< [-]
    double shear_top = 10.0;   ///< [deg]
};

/// Tops that are round figures above every piece of the plan.
[[nodiscard]] StrainScale strain_scale(const Plan& plan);

/// The strain of a flat piece as small squares, row by row, for a thumbnail.
///
/// @param at     [mm] where the piece's origin stands on paper
/// @param scale  [-] paper mm a mm of cloth
[[nodiscard]] std::string strain_cells(const pieces::Piece& piece, const StrainScale& tops,
                                       const Vec2& at, double scale);

}  // namespace tearline::job_sheet

#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// [mm] between the yarns that are drawn on pictures.
inline constexpr double yarn_spacing = 25.0;

/// A template small: outline, net line, strain and where it is most, yarns, seams, cuts, datum; for
/// the overview and the job sheet.
///
/// @param at     [mm] where the datum stands on paper
/// @param scale  [-] paper mm a mm of cloth
/// @param id     unique within the document
[[nodiscard]] std::string template_thumbnail(const templates::LaidPiece& piece, const Plan& plan,
                                             const Vec2& at, double scale, const std::string& id);

/// "1.83 %" or "4.2°": the most that a piece strains or shears.
[[nodiscard]] std::string most_text(const pieces::Piece& piece);

/// The colours of strain and shear with their numbers, 80 mm wide, its top left at `at`.
[[nodiscard]] std::string strain_scale_bar(const Plan& plan, const Vec2& at);

}  // namespace tearline::job_sheet

#pragma once
#include <string>

#include "core/plan.h"

namespace tearline::output {

/// [mm] between the yarns that are drawn on pictures.
inline constexpr double yarn_spacing = 25.0;

/// A template small: outline, net line, strain, yarns, seams, cuts, datum; for the overview and the
/// job sheet.
///
/// @param at     [mm] where the datum stands on paper
/// @param scale  [-] paper mm a mm of cloth
/// @param id     unique within the document
[[nodiscard]] std::string template_thumbnail(const PlannedPiece& piece, const Plan& plan,
                                             const Vec2& at, double scale, const std::string& id);

/// The colours of strain and shear with their numbers, 80 mm wide, its top left at `at`.
[[nodiscard]] std::string strain_scale_bar(const Plan& plan, const Vec2& at);

}  // namespace tearline::output

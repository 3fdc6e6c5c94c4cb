#pragma once
#include <string>

#include "core/plan.h"

namespace tearline::output {

/// The repair at a glance: where it sits on the hull, the plies on it, the templates beside with
/// their strain, and what it takes.
[[nodiscard]] std::string overview_svg(const Plan& plan);

/// A template small: outline, net line, strain, datum; for the overview and the job sheet.
///
/// @param at     [mm] where the datum stands on paper
/// @param scale  [-] paper mm a mm of cloth
/// @param id     unique within the document
[[nodiscard]] std::string template_thumbnail(const PlannedPiece& piece, const Plan& plan,
                                             const Vec2& at, double scale, const std::string& id);

}  // namespace tearline::output

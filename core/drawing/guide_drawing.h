#pragma once
#include "core/drawing/drawing.h"
#include "core/templates/template_set.h"

namespace tearline::drawing {

/// The footprint with the scarf edge, a ring for each ply edge and what to grind to; on pages with
/// lines to lay a tape along, to bow and up. No lines where the plan has no guide.
[[nodiscard]] Drawing guide_drawing(const templates::TemplateSet& set, const Look& look);

}  // namespace tearline::drawing

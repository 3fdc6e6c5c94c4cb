#pragma once
#include "core/drawing/drawing.h"
#include "core/templates/template_set.h"

namespace tearline::drawing {

/// Edges to cut from card or ply: the base surface along and across, with the depth of the dish
/// where a ring of the guide crosses.
[[nodiscard]] Drawing section_cards(const templates::TemplateSet& set);

}  // namespace tearline::drawing

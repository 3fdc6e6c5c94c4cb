#pragma once
#include <string>

#include "core/paper/drawing.h"
#include "core/templates/template.h"

/// The parts that several drawings share.
namespace tearline::paper {

/// [-] of a line's height that a capital takes: 0.8 of the line is the font, 0.729 of that the
/// capital (DejaVu Sans).
inline constexpr double capital_share = 0.8 * 0.729;

/// The loops of a region as strokes.
void add_region(Drawing& drawing, const Region2& region, Pen pen);

/// An arrow with a head.
void add_arrow(Drawing& drawing, const Vec2& tail, const Vec2& tip);

/// The lines of a mark of a template or of the grind guide, and the text of a label; the words of
/// the others are placed when all lines are there.
void add_mark(Drawing& drawing, const templates::Mark& mark);

}  // namespace tearline::paper

#pragma once
#include <string>

#include "core/output/print/drawing.h"
#include "core/templates/template.h"

/// The parts that several drawings share.
namespace tearline::print {

/// The loops of a region as strokes.
void add_region(Drawing& drawing, const Region2& region, Pen pen);

/// An arrow with a head and its word beside the tip.
void add_arrow(Drawing& drawing, const Vec2& tail, const Vec2& tip, const std::string& word);

/// Words along a loop, every `spacing` mm and at least twice, to the left of it by `offset`.
void add_words_along(Drawing& drawing, const Loop2& loop, const std::string& text, double spacing,
                     double offset);

/// A mark of a template or of the grind guide.
void add_mark(Drawing& drawing, const templates::Mark& mark);

/// The middle of a mark's points; of a datum, where its strokes cross.
[[nodiscard]] Vec2 middle(const templates::Mark& mark);

}  // namespace tearline::print

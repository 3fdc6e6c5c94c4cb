#pragma once
#include "core/drawing/drawing.h"
#include "core/templates/template_set.h"

namespace tearline::drawing {

/// A piece's table of distances from the datum, every 15 degrees and at corners, to draw its
/// template by tape and protractor.
[[nodiscard]] Drawing polar_drawing(const templates::PieceTemplate& piece,
                                    const templates::TemplateSet& set);

}  // namespace tearline::drawing

#pragma once
#include "core/drawing/drawing.h"
#include "core/templates/template_set.h"

namespace tearline::drawing {

/// A piece's template: the line it is parted along, net line, marks and words.
[[nodiscard]] Drawing piece_drawing(const templates::PieceTemplate& piece, const Look& look);

}  // namespace tearline::drawing

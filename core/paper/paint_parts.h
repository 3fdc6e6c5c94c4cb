#pragma once
#include <QColor>

#include "core/paper/print_layout.h"

class QPainter;

namespace tearline::paper {

/// Words at their place, squeezed into the room they have; the painter's y points up.
void paint_words(QPainter& painter, const drawing::Drawing::Text& words,
                 const QColor& colour = Qt::black);

/// What stands beside the window: what and where the page is, how to print it, check bars and
/// circle, page map.
void paint_header(QPainter& painter, const PrintLayout& layout, std::size_t page);

}  // namespace tearline::paper

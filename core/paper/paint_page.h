#pragma once
#include "core/paper/print_layout.h"

class QPainter;

namespace tearline::paper {

/// Paints one page of a layout.
///
/// @param painter         device coordinates, y down, the paper's upper left corner at 0, 0
/// @param units_per_mm    device units for one mm on paper
void paint_page(QPainter& painter, const PrintLayout& layout, std::size_t page,
                double units_per_mm);

}  // namespace tearline::paper

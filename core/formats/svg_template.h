#pragma once
#include <string>

#include "core/drawing/drawing.h"

namespace tearline::formats {

/// One template as SVG in true millimetres: width and height in mm and a viewBox in mm, named
/// groups, a 100 mm bar to measure the print by.
[[nodiscard]] std::string svg_template(const drawing::Drawing& drawing);

/// The same lines and words as an SVG fragment for a picture, y down, moved by `place`.
[[nodiscard]] std::string svg_groups(const drawing::Drawing& drawing, const Vec2& place);

}  // namespace tearline::formats

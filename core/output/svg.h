#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "core/base/outline.h"

namespace tearline::output {

/// Text made safe for XML; characters that XML forbids become spaces.
[[nodiscard]] std::string escaped(std::string_view text);

/// A number as SVG wants it: a point, no more digits than needed to 0.0001.
[[nodiscard]] std::string svg_number(double value);

/// Path data through points that are in paper coordinates already (y down).
[[nodiscard]] std::string svg_path(const std::vector<Vec2>& points, bool closed);

}  // namespace tearline::output

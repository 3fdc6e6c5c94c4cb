#pragma once
#include <string>

#include "core/base/vec.h"

namespace tearline::output {

/// A colour as "#rrggbb".
[[nodiscard]] std::string colour(const Vec3& rgb);

/// Light yellow at 0 to dark blue at 1 in even steps of lightness, told apart with every kind of
/// colour vision and in grey print.
///
/// @source  anchors of the cividis map (Nunez, Anderton and Renslow, PLOS ONE 2018), turned round
[[nodiscard]] std::string strain_colour(double share);

/// Tints of one hue for the plies on the hull: the outermost (0) light, the innermost (1) dark.
[[nodiscard]] std::string ply_colour(double share);

}  // namespace tearline::output

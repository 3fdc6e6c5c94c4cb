#pragma once
#include <string>

#include "core/base/vec.h"

namespace tearline::job_sheet {

/// A colour as "#rrggbb".
[[nodiscard]] std::string colour(const Vec3& rgb);

/// Cream at 0 through teal to navy at 1 in even steps of lightness, told apart with every kind of
/// colour vision and in grey print.
///
/// @source  lightness L of the Oklab space falls linearly from 0.96 to 0.25 (derived)
[[nodiscard]] std::string strain_colour(double share);

/// Tints of one hue for the plies on the hull: the outermost (0) light, the innermost (1) dark.
[[nodiscard]] std::string ply_colour(double share);

}  // namespace tearline::job_sheet

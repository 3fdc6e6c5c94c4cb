#pragma once
#include <optional>
#include <span>

#include "core/scan/noise.h"

namespace tearline::scan {

/// A place where the skin that a scan shows leaves its fair surface.
struct Unfollowed {
    Vec2 uv{0, 0};     ///< [mm] by parameters
    double off = 0.0;  ///< [mm] of half the points there at least; outward positive
};

/// The place, of small ones and of larger ones, where half of the points lie farthest off to one
/// side: by more than is asked of a surface and than their noise makes of it.
///
/// @param residuals  of all points that may be skin, believed or not
/// @param spacing    [mm] between neighbouring points
[[nodiscard]] std::optional<Unfollowed> unfollowed(std::span<const Residual> residuals,
                                                   const Noise& noise, double spacing);

}  // namespace tearline::scan

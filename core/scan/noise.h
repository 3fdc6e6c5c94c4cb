#pragma once
#include <span>

#include "core/base/vec.h"

namespace tearline::scan {

/// How a scanner errs along the normal: spread and how far an error reaches.
struct Noise {
    double spread = 0.1;       ///< [mm] standard deviation s
    double correlation = 4.0;  ///< [mm] L: errors at a distance r go together as exp(-r^2 / 2 L^2)

    /// Integral of the covariance over the surface [mm4]: what a smooth fit sees of it.
    [[nodiscard]] double density() const;
};

/// What is left of a point's distance when the fair surface is taken away.
struct Residual {
    Vec2 uv{0, 0};     ///< [mm]
    double off = 0.0;  ///< [mm]
};

/// Noise as residuals show it: s by their median, L by pairs 5 to 32 mm apart.
///
/// Right to about s 1 mm and L 8 mm; above, the fit has taken part of it and it comes out too
/// small, so that what the kind of scanner is known for has to be a floor.
/// @param residuals  without those that are not believed
/// @param spacing    [mm] between neighbours: no shorter correlation can be seen
[[nodiscard]] Noise noise_of(std::span<const Residual> residuals, double spacing);

}  // namespace tearline::scan

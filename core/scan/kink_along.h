#pragma once
#include <optional>
#include <vector>

#include "core/scan/bridge.h"
#include "core/scan/crease_line.h"
#include "core/scan/noise.h"

namespace tearline::scan {

/// How sharply a skin turns on a line.
struct Kink {
    double turn = 0.0;    ///< [rad] the way the skin bends beside it; below nought against that
    double spread = 0.0;  ///< [rad] of that turn, by the noise
};

/// What is told of a line by all points beside it at once: a parabola with a kink on the line.
///
/// Of a skin that bends smoothly the parabola bends too much beside the line and the kink turns
/// against it, so that neither a bilge nor a tube passes for a chine.
/// @param points  [mm] of the scan
/// @param line    seen in `view`, which no point's skin is seen along the edge of
/// @param hole    in that view: what is not believed
/// @param wide    [mm] how far to either side points are looked at
/// @param noise   of the scan
/// @return  nothing where too few points tell it
[[nodiscard]] std::optional<Kink> kink_along(const std::vector<Vec3>& points, const PlaceView& view,
                                             const CreaseLine& line, const Bridge& hole,
                                             double wide, const Noise& noise);

}  // namespace tearline::scan

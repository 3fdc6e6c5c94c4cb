#pragma once
#include <optional>
#include <span>

#include "core/base/vec.h"

namespace tearline::scan {

/// A point over whatever surface was fitted through all of them.
struct LayerPoint {
    Vec2 uv{0, 0};     ///< [mm]
    double off = 0.0;  ///< [mm] height over that surface
    Vec3 at{0, 0, 0};  ///< [mm]
};

/// Two layers of points one over the other, as of both faces of a skin.
struct Layers {
    double apart = 0.0;  ///< [mm] half of what is seen of them lies farther apart
    double share = 0.0;  ///< [-] of the small squares that hold enough points to tell
};

/// Tells layers by small squares: in each the heights of its points over whatever surface was
/// fitted through them fall into two groups, a quarter of them at least in either, with a gap
/// between. How far apart they lie is measured across the layers themselves: that surface lies on
/// neither, and may lean to both.
///
/// @param spacing    [mm] between neighbouring points
/// @param least_gap  [mm] what lies nearer together is one layer
[[nodiscard]] std::optional<Layers> layers_of(std::span<const LayerPoint> points, double spacing,
                                              double least_gap);

}  // namespace tearline::scan

#pragma once
#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

#include "core/base/outline.h"

namespace tearline::layout {

/// Where a shape lies: turned about its origin, then moved.
struct Place {
    Vec2 move{0, 0};    ///< [mm] x along the strip, y across it
    double turn = 0.0;  ///< [deg]
};

/// A shape to cut from a strip, with the turns it may be cut at.
struct Shape {
    Loop2 outline;                     ///< [mm] counter-clockwise
    std::vector<double> turns;         ///< [deg] counter-clockwise, at least one
    std::optional<Place> locked = {};  ///< where it lies whatever else does
};

struct NestOptions {
    double gap = 5.0;        ///< [mm] >= 0 between pieces; the strip's edges may be touched
    int most_passes = 0;     ///< [-] orders that are tried; 0: as many as `usual_passes`
    std::uint32_t seed = 1;  ///< start value of the search
    /// [mm] of the strip; what has no room on it is left out, the least area of all.
    double most_length = std::numeric_limits<double>::infinity();
    std::vector<Loop2> blocked = {};  ///< [mm] of the strip, where nothing may lie
};

/// Orders that a search for so many shapes tries unless told otherwise: a pass costs about the
/// square of the number of shapes, so many shapes get few.
[[nodiscard]] int usual_passes(std::size_t count);

struct Nest {
    /// As the shapes; nothing: wider than the strip, or without room on one that ends.
    std::vector<std::optional<Place>> places;
    double length = 0.0;    ///< [mm] of strip used
    double left_out = 0.0;  ///< [mm2] of what has no place
};

/// Lays shapes on a strip of a given width so that little length is used.
///
/// Each goes as far back as it can go beside those before it, by no-fit polygons; several orders
/// are tried and the shortest is kept. More than a hundred and fifty are laid in lots, one lot
/// behind the other. The same input gives the same answer.
/// @param width  [mm] > 0
[[nodiscard]] Nest nest(const std::vector<Shape>& shapes, double width,
                        const NestOptions& options = {});

}  // namespace tearline::layout

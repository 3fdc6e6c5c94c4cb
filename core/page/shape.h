#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "core/base/vec.h"

namespace tearline::page {

/// What is looked at: a surface as triangles, or the bare points of a scan where there are none.
struct Shape {
    std::vector<Vec3> vertices;  ///< [mm]
    std::vector<std::array<std::int32_t, 3>> triangles;
    /// [-] what a scan's own coordinates were taken times by its tapes: a point picked here stands
    /// in a job file before that.
    double scale = 1.0;
};

/// The shape with few enough triangles, or points, for a browser to open at once.
///
/// Vertices in one cell of a grid become one, where the planes of the triangles about them meet
/// best, so that chines and bends keep their place; the surface moves by less than a cell's
/// diagonal, on smooth parts by far less. What is small enough stays as it is.
/// @source  P. Lindstrom, Out-of-core simplification of large polygonal models, 2000
[[nodiscard]] Shape thinned(const Shape& shape, std::size_t most);

}  // namespace tearline::page

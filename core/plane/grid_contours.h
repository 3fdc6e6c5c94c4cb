#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// A field over a rectangle, by its values at the crossings of a grid.
struct GridField {
    Vec2 low{0, 0};
    double step = 1.0;  ///< [mm]
    int columns = 0, rows = 0;
    std::vector<double> value;  ///< row by row

    [[nodiscard]] Vec2 place(int column, int row) const { return low + step * Vec2(column, row); }
    [[nodiscard]] double& at(int column, int row) {
        return value[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                     static_cast<std::size_t>(column)];
    }
    [[nodiscard]] double at(int column, int row) const {
        return value[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                     static_cast<std::size_t>(column)];
    }
};

/// Closed curves where a field passes a level, higher values on the left: outer ones
/// counter-clockwise, straight between the grid's lines (marching squares).
[[nodiscard]] std::vector<Loop2> contours(const GridField& field, double level);

/// Outer loops with the openings that lie in them.
[[nodiscard]] std::vector<Region2> regions_of(std::vector<Loop2> loops);

}  // namespace tearline::plane

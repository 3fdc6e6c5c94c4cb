#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plies {

/// How long the edges of a mesh should be at each place of the chart: a grid of lengths.
class SizingField {
public:
    /// @param low,high  corners of the box to cover [mm]
    /// @param size      edge length everywhere at first [mm]; the grid's cells are half as wide
    SizingField(const Vec2& low, const Vec2& high, double size);

    /// Asks for edges no longer than `size` at a place.
    void limit(const Vec2& place, double size);

    /// Lets lengths grow by at most `slope` a length away from where they were limited.
    void grade(double slope);

    /// Edge length asked for at a place [mm]; the nearest cell's outside the box.
    [[nodiscard]] double at(const Vec2& place) const { return size_[cell_of(place)]; }

    /// Shortest length asked for along a row of the chart [mm].
    [[nodiscard]] double shortest_in_row(double y) const;

    /// Length at first, before any limit [mm].
    [[nodiscard]] double coarsest() const { return coarsest_; }

    /// How many equilateral triangles of these sizes the region takes, counted by cells inside.
    [[nodiscard]] double triangles_for(const Region2& region) const;

private:
    [[nodiscard]] std::size_t cell_of(const Vec2& place) const;

    Vec2 low_;
    double cell_ = 0.0;
    double coarsest_ = 0.0;
    int columns_ = 0, rows_ = 0;
    std::vector<double> size_;
};

}  // namespace tearline::plies

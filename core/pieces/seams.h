#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::pieces {

/// Straight lines of the chart that part a ply into pieces: two sets, square to each other.
struct Seams {
    double angle = 0.0;          ///< [rad] of the first direction, u, from the chart's x
    std::vector<double> across;  ///< [mm] ascending: lines square to u, by their distance along it
    std::vector<double> along;   ///< [mm] ascending: lines along u, by their distance to its left

    [[nodiscard]] bool empty() const { return across.empty() && along.empty(); }
    /// Which cell a place lies in.
    [[nodiscard]] std::int32_t cell(const Vec2& place) const;
};

/// Evenly spread seams that make `columns` x `rows` cells over a region.
/// @param shift  [-] of a cell: moves the seams across and along
[[nodiscard]] Seams even_seams(const Region2& region, double angle, const std::array<int, 2>& cells,
                               const std::array<double, 2>& shift);

/// The region cell by cell; parts under tolerance::least_island are left out.
[[nodiscard]] std::vector<Region2> divided(const Region2& region, const Seams& seams);

/// The stretches of the seams inside a region.
[[nodiscard]] std::vector<std::vector<Vec2>> seam_lines(const Region2& region, const Seams& seams);

/// The stretches of a line of the chart inside a region.
[[nodiscard]] std::vector<std::vector<Vec2>> stretches_inside(const Region2& region,
                                                              const std::vector<Vec2>& line);

/// How near two sets of lines come where they run alongside each other, within 30 degrees [mm];
/// infinite where none does. Lines that cross at a wide angle meet at one place only, which no
/// staggering can help.
[[nodiscard]] double distance_alongside(const std::vector<std::vector<Vec2>>& lines,
                                        const std::vector<std::vector<Vec2>>& others);

/// Centre, direction of the longest way and half extents along and across it of a region.
struct Extent {
    Vec2 centre{0, 0};
    double angle = 0.0;  ///< [rad]
    double half_long = 0.0, half_wide = 0.0;
};
[[nodiscard]] Extent extent_of(const Region2& region);

}  // namespace tearline::pieces

#pragma once
#include <functional>
#include <vector>

#include "core/pieces/lay_down.h"
#include "core/pieces/seams.h"
#include "core/pieces/search.h"

namespace tearline::pieces {

/// A way to part a shape into pieces.
struct Division {
    std::vector<std::vector<Vec2>> lines;  ///< [mm] its seams in the chart
    Seams seams;
    int cells = 0;
    /// [mm] the first of its lines, those that are creases of the surface and no `seams`.
    std::vector<std::vector<Vec2>> creases;

    /// The others; creases are edges of every mesh.
    [[nodiscard]] std::vector<std::vector<Vec2>> seam_lines() const {
        return {lines.begin() + static_cast<std::ptrdiff_t>(creases.size()), lines.end()};
    }
};

/// Ways to part a shape by a number of straight seams, those with fewer and squarer cells first,
/// moved and turned so that they keep to a rule. Cloth is parted along its yarns.
///
/// @param prefers  of moves of the same seams, those to be tried first
[[nodiscard]] std::vector<Division> divisions(
    const PlyShape& shape, int seams, const std::function<bool(const Division&)>& keeps_distance,
    const std::function<bool(const Division&)>& prefers, Search search = Search::usual);

/// How far a lap reaches to either side of its seam [mm].
[[nodiscard]] double lap_half_width(const job::Fabric& fabric);

}  // namespace tearline::pieces

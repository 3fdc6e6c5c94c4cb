#pragma once
#include <array>
#include <optional>
#include <span>
#include <vector>

#include "core/base/outline.h"
#include "core/pieces/piece.h"
#include "core/surface/patch_index.h"

namespace tearline::pieces {

/// The way from the patch's chart to a piece: to its flat shape, its lay surface and its base.
class ChartMap {
public:
    explicit ChartMap(const Piece& piece);

    /// The triangle over a chart point; nothing outside the piece.
    [[nodiscard]] std::optional<surface::Location> locate(const Vec2& chart_point) const;

    /// The location nearest to a chart point: itself inside, on the edge outside.
    [[nodiscard]] surface::Location nearest(const Vec2& chart_point) const;

    [[nodiscard]] Vec2 flat(const surface::Location& at) const;

    /// The flat place of a chart point [mm]; nothing outside the piece.
    [[nodiscard]] std::optional<Vec2> flat_at(const Vec2& chart_point) const;

    /// A closed chart line, such as the edge of the next smaller ply, laid flat, in as many runs as
    /// the piece covers of it.
    ///
    /// A gap in the chart where the lay surface is trimmed parts no run: both ends of it lie on
    /// the same ridge.
    struct Run {
        std::vector<Vec2> points;
        bool closed = false;
    };
    [[nodiscard]] std::vector<Run> runs(const Loop2& chart_loop) const;

private:
    [[nodiscard]] std::array<Vec2, 3> corners(std::size_t triangle) const;

    const Piece* piece_;        ///< outlives the map
    std::vector<Vec2> corner_;  ///< [mm] three a triangle, in the chart of its own sheet
    surface::ChartGrid grid_;
};

}  // namespace tearline::pieces

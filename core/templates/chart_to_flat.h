#pragma once
#include <optional>
#include <vector>

#include "core/pieces/piece.h"

namespace tearline::templates {

/// Finds where places of the chart come to lie on a flat piece.
class ChartToFlat {
public:
    explicit ChartToFlat(const pieces::Piece& piece);

    /// The flat place of a chart point [mm]; nothing when the piece does not cover it.
    [[nodiscard]] std::optional<Vec2> operator()(const Vec2& chart_point) const;

    /// A closed chart line laid flat, in as many runs as the piece covers of it.
    struct Run {
        std::vector<Vec2> points;
        bool closed = false;
    };
    [[nodiscard]] std::vector<Run> runs(const Loop2& chart_loop) const;

private:
    [[nodiscard]] std::size_t cell(double x, double y) const;

    const pieces::Piece& piece_;
    Vec2 low_{0, 0};
    double step_ = 1.0;  ///< [mm] width of a cell
    std::size_t columns_ = 1, rows_ = 1;
    std::vector<std::vector<std::int32_t>> cells_;  ///< triangles that touch each cell
};

}  // namespace tearline::templates

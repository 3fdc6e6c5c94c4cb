#include "core/job_sheet/strain_cells.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/formats/svg.h"
#include "core/job_sheet/colour_scale.h"

namespace tearline::job_sheet {

namespace {

constexpr int levels = 24;

/// The next of 1, 2, 5, 10, 20, ... at or above a value.
double round_figure(double value) {
    double decade = std::pow(10.0, std::floor(std::log10(value)));
    for (const double step : {1.0, 2.0, 5.0, 10.0})
        if (step * decade >= value) return step * decade;
    return 10.0 * decade;
}

int level_of(const pieces::Piece& piece, std::size_t triangle, const StrainScale& tops) {
    double share = 0.0;
    if (triangle < piece.shear_degrees.size())
        share = std::abs(piece.shear_degrees[triangle]) / tops.shear_top;
    else if (triangle < piece.stretch.size())
        share = std::max(std::abs(piece.stretch[triangle][0] - 1.0),
                         std::abs(piece.stretch[triangle][1] - 1.0)) /
                tops.strain_top;
    return static_cast<int>(std::lround(std::clamp(share, 0.0, 1.0) * (levels - 1)));
}

struct Cells {
    Vec2 low{0, 0};
    double step = 1.0;
    int columns = 0, rows = 0;
    std::vector<int> level;  ///< -1: not on the piece

    int& at(int column, int row) { return level[static_cast<std::size_t>(row * columns + column)]; }
};

/// Gives each cell whose middle lies in the triangle its level.
void fill_cells(Cells& cells, const std::array<Vec2, 3>& t, int level) {
    const auto index = [&cells](double offset) {
        return static_cast<int>(std::floor(offset / cells.step));
    };
    const Vec2 low = t[0].cwiseMin(t[1]).cwiseMin(t[2]) - cells.low;
    const Vec2 high = t[0].cwiseMax(t[1]).cwiseMax(t[2]) - cells.low;
    const double twice = cross2(t[1] - t[0], t[2] - t[0]);
    if (twice == 0.0) return;
    for (int row = std::max(0, index(low.y())); row <= std::min(cells.rows - 1, index(high.y()));
         ++row) {
        for (int column = std::max(0, index(low.x()));
             column <= std::min(cells.columns - 1, index(high.x())); ++column) {
            const Vec2 p = cells.low + cells.step * Vec2(column + 0.5, row + 0.5);
            const double a = cross2(t[1] - t[0], p - t[0]) / twice,
                         b = cross2(t[2] - t[1], p - t[1]) / twice;
            if (a >= 0.0 && b >= 0.0 && a + b <= 1.0) cells.at(column, row) = level;
        }
    }
}

Cells cells_of(const pieces::Piece& piece, const StrainScale& tops) {
    constexpr double across = 80.0;
    const plane::Box box = plane::box_round(piece.flat);
    Cells cells;
    cells.step = std::max((box.high - box.low).maxCoeff() / across, 1.0);
    cells.low = box.low;
    cells.columns = static_cast<int>((box.high.x() - box.low.x()) / cells.step) + 1;
    cells.rows = static_cast<int>((box.high.y() - box.low.y()) / cells.step) + 1;
    cells.level.assign(static_cast<std::size_t>(cells.columns * cells.rows), -1);
    for (std::size_t i = 0; i < piece.lay.triangle.size(); ++i) {
        std::array<Vec2, 3> corners;
        for (std::size_t k = 0; k < 3; ++k)
            corners[k] = piece.flat[static_cast<std::size_t>(piece.lay.triangle[i][k])];
        fill_cells(cells, corners, level_of(piece, i, tops));
    }
    return cells;
}

}  // namespace

StrainScale strain_scale(const Plan& plan) {
    constexpr double least_strain = 0.01, least_shear = 10.0;
    StrainScale tops{least_strain, least_shear};
    for (const templates::LaidPly& ply : plan.plies) {
        for (const templates::LaidPiece& piece : ply.pieces) {
            tops.strain_top = std::max(tops.strain_top, piece.piece.strain_max);
            if (piece.piece.shear_max)
                tops.shear_top = std::max(tops.shear_top, *piece.piece.shear_max);
        }
    }
    return {round_figure(tops.strain_top), round_figure(tops.shear_top)};
}

std::string strain_cells(const pieces::Piece& piece, const StrainScale& tops, const Vec2& at,
                         double scale) {
    if (piece.flat.empty()) return {};
    Cells cells = cells_of(piece, tops);
    // One path a level: its squares row by row, a little higher than a row so that no gap shows.
    std::array<std::string, levels> paths;
    for (int row = 0; row < cells.rows; ++row) {
        for (int from = 0; from < cells.columns;) {
            const int level = cells.at(from, row);
            int to = from;
            while (to < cells.columns && cells.at(to, row) == level) ++to;
            if (level >= 0) {
                const Vec2 corner = cells.low + cells.step * Vec2(from, row + 1.0);
                paths[static_cast<std::size_t>(level)] +=
                    "M" +
                    formats::svg_number(std::round((at.x() + scale * corner.x()) * 100) / 100) +
                    " " +
                    formats::svg_number(std::round((at.y() - scale * corner.y()) * 100) / 100) +
                    "h" +
                    formats::svg_number(std::round(scale * cells.step * (to - from) * 100) / 100 +
                                        0.03) +
                    "v" + formats::svg_number(std::round(scale * cells.step * 100) / 100 + 0.05) +
                    "H" +
                    formats::svg_number(std::round((at.x() + scale * corner.x()) * 100) / 100) +
                    "Z";
            }
            from = to;
        }
    }
    std::string out;
    for (int level = 0; level < levels; ++level) {
        const std::string& path = paths[static_cast<std::size_t>(level)];
        if (path.empty()) continue;
        out += "<path fill=\"" + strain_colour(double(level) / (levels - 1)) + "\" d=\"" + path +
               "\"/>\n";
    }
    return out;
}

}  // namespace tearline::job_sheet

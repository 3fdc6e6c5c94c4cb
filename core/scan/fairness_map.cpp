#include "core/scan/fairness_map.h"

#include <algorithm>
#include <cmath>

#include "core/scan/robust.h"

namespace tearline::scan {

namespace {

/// [-] one step down: a wave that kept a tenth of its height keeps over half after it.
constexpr double shorter = 1.5;
/// [-] how fast the length may grow from a bend outward, by the way.
constexpr double growth = 0.5;
/// [-] spreads of its mean that a smoothed residual may reach before it is the hull's own shape.
constexpr double own_shape = 3.0;
/// [-] the spread of a median by that of the mean.
constexpr double median_spread = 1.2533;

}  // namespace

bool FairnessMap::shorten(std::span<const Residual> residuals, const Noise& noise,
                          const std::function<bool(const Vec2&)>& bridged) {
    std::vector<std::vector<double>> of_cell(length_.size());
    for (const Residual& residual : residuals) {
        if (!grid_.holds(residual.uv)) continue;
        const auto [column, row] = grid_.cell_of(residual.uv);
        of_cell[static_cast<std::size_t>(row * grid_.columns + column)].push_back(residual.off);
    }
    std::vector<char> hidden(length_.size());
    for (int row = 0; row < grid_.rows; ++row)
        for (int column = 0; column < grid_.columns; ++column)
            hidden[static_cast<std::size_t>(row * grid_.columns + column)] =
                bridged(grid_.low + grid_.cell * Vec2(column + 0.5, row + 0.5));

    std::vector<double> wanted = length_;
    std::vector<double> window;
    bool changed = false;
    for (int row = 0; row < grid_.rows; ++row)
        for (int column = 0; column < grid_.columns; ++column) {
            const auto cell = static_cast<std::size_t>(row * grid_.columns + column);
            if (hidden[cell] || length_[cell] <= least_) continue;
            const int wide = std::max(1, static_cast<int>(length_[cell] / (6.0 * grid_.cell)));
            window.clear();
            int filled = 0;
            for (int r = std::max(0, row - wide); r <= std::min(grid_.rows - 1, row + wide); ++r)
                for (int c = std::max(0, column - wide);
                     c <= std::min(grid_.columns - 1, column + wide); ++c) {
                    const auto other = static_cast<std::size_t>(r * grid_.columns + c);
                    if (hidden[other] || of_cell[other].empty()) continue;
                    ++filled;
                    window.insert(window.end(), of_cell[other].begin(), of_cell[other].end());
                }
            if (window.size() < 8) continue;
            const double area = filled * grid_.cell * grid_.cell;
            const double of_mean = median_spread * std::sqrt(noise.density() / area);
            if (std::abs(median(window)) <= own_shape * of_mean) continue;
            wanted[cell] = std::max(least_, length_[cell] / shorter);
            changed = true;
        }
    length_ = std::move(wanted);
    if (changed) level_out(hidden);
    return changed;
}

void FairnessMap::level_out(const std::vector<char>& bridged) {
    // A lower envelope of cones, by sweeps forth and back; a bridged cell keeps its own length and
    // hands none on.
    const double step = growth * grid_.cell;
    const auto pull = [&](int row, int column, int from_row, int from_column) {
        if (from_row < 0 || from_column < 0 || from_row >= grid_.rows ||
            from_column >= grid_.columns)
            return;
        const auto cell = static_cast<std::size_t>(row * grid_.columns + column);
        const auto other = static_cast<std::size_t>(from_row * grid_.columns + from_column);
        if (bridged[cell] || bridged[other]) return;
        const bool corner = row != from_row && column != from_column;
        length_[cell] = std::min(length_[cell], length_[other] + (corner ? 1.4142 : 1.0) * step);
    };
    for (int row = 0; row < grid_.rows; ++row)
        for (int column = 0; column < grid_.columns; ++column)
            for (const auto& [r, c] : {std::pair{-1, -1}, {-1, 0}, {-1, 1}, {0, -1}})
                pull(row, column, row + r, column + c);
    for (int row = grid_.rows - 1; row >= 0; --row)
        for (int column = grid_.columns - 1; column >= 0; --column)
            for (const auto& [r, c] : {std::pair{1, 1}, {1, 0}, {1, -1}, {0, 1}})
                pull(row, column, row + r, column + c);
}

FairnessMap FairnessMap::on(const FieldGrid& grid) const {
    FairnessMap map(grid, 0.0, least_);
    std::size_t cell = 0;
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column)
            map.length_[cell++] = at(grid.low + grid.cell * Vec2(column + 0.5, row + 0.5));
    return map;
}

double FairnessMap::shortest() const {
    return *std::min_element(length_.begin(), length_.end());
}

double FairnessMap::at(const Vec2& uv) const {
    const auto [column, row] = grid_.cell_of(uv);
    return length_[static_cast<std::size_t>(row * grid_.columns + column)];
}

}  // namespace tearline::scan

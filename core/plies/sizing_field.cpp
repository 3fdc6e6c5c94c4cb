#include "core/plies/sizing_field.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/plies/row_crossings.h"

namespace tearline::plies {

SizingField::SizingField(const Vec2& low, const Vec2& high, double size)
    : low_(low), cell_(0.5 * size), coarsest_(size) {
    columns_ = std::max(1, static_cast<int>(std::ceil((high.x() - low.x()) / cell_)) + 1);
    rows_ = std::max(1, static_cast<int>(std::ceil((high.y() - low.y()) / cell_)) + 1);
    size_.assign(static_cast<std::size_t>(columns_) * rows_, size);
}

std::size_t SizingField::cell_of(const Vec2& place) const {
    const Vec2 q = (place - low_) / cell_;
    const int column = static_cast<int>(std::clamp(q.x(), 0.0, columns_ - 1.0));
    const int row = static_cast<int>(std::clamp(q.y(), 0.0, rows_ - 1.0));
    return static_cast<std::size_t>(row) * columns_ + column;
}

double SizingField::shortest_in_row(double y) const {
    const auto first = size_.begin() + static_cast<std::ptrdiff_t>(cell_of({low_.x(), y}));
    return *std::min_element(first, first + columns_);
}

void SizingField::limit(const Vec2& place, double size) {
    double& here = size_[cell_of(place)];
    here = std::min(here, size);
}

void SizingField::grade(double slope) {
    const double straight = slope * cell_;
    const double diagonal = straight * std::numbers::sqrt2;
    const auto relax = [&](int column, int row, int toward) {
        double& here = size_[static_cast<std::size_t>(row) * columns_ + column];
        const auto from = [&](int dc, int dr, double step) {
            const int c = column + toward * dc;
            const int r = row + toward * dr;
            if (c < 0 || c >= columns_ || r < 0 || r >= rows_) return;
            here = std::min(here, size_[static_cast<std::size_t>(r) * columns_ + c] + step);
        };
        from(-1, 0, straight);
        from(0, -1, straight);
        from(-1, -1, diagonal);
        from(1, -1, diagonal);
    };
    for (int r = 0; r < rows_; ++r)
        for (int c = 0; c < columns_; ++c) relax(c, r, 1);
    for (int r = rows_ - 1; r >= 0; --r)
        for (int c = columns_ - 1; c >= 0; --c) relax(c, r, -1);
}

double SizingField::triangles_for(const Region2& region) const {
    const RowCrossings rows(region, 0, rows_ - 1,
                            [&](long row) { return low_.y() + (row + 0.5) * cell_; });
    double count = 0.0;
    const double of_one = std::sqrt(3.0) / 4.0;  // area of a triangle with unit edges
    for (int r = 0; r < rows_; ++r) {
        const auto crossings = rows.of(r);
        for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
            const int first = static_cast<int>((crossings[k] - low_.x()) / cell_);
            const int last = static_cast<int>((crossings[k + 1] - low_.x()) / cell_);
            for (int c = std::max(first, 0); c <= std::min(last, columns_ - 1); ++c) {
                const double size = size_[static_cast<std::size_t>(r) * columns_ + c];
                count += cell_ * cell_ / (of_one * size * size);
            }
        }
    }
    return count;
}

}  // namespace tearline::plies

#pragma once
#include <functional>
#include <span>
#include <vector>

#include "core/scan/fair_field.h"
#include "core/scan/noise.h"

namespace tearline::scan {

/// The fairness l of each cell of a grid [mm]: one length, and shorter where the hull bends more
/// than that length can follow.
class FairnessMap {
public:
    /// @param least  [mm] it never falls below
    FairnessMap(const FieldGrid& grid, double length, double least)
        : grid_(grid), least_(least), length_(static_cast<std::size_t>(grid.cells()), length) {}

    /// Shortens it where the smoothed residual exceeds three spreads of its mean, outside what is
    /// bridged.
    /// @return whether any cell changed
    bool shorten(std::span<const Residual> residuals, const Noise& noise,
                 const std::function<bool(const Vec2&)>& bridged);

    /// The same lengths by the cells of another grid over the same rectangle.
    [[nodiscard]] FairnessMap on(const FieldGrid& grid) const;

    [[nodiscard]] const std::vector<double>& lengths() const { return length_; }
    [[nodiscard]] double shortest() const;
    [[nodiscard]] double at(const Vec2& uv) const;

private:
    void level_out(const std::vector<char>& bridged);

    FieldGrid grid_;
    double least_;
    std::vector<double> length_;
};

}  // namespace tearline::scan

#pragma once
#include <Eigen/SparseCore>
#include <array>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "core/scan/two_arc.h"

namespace tearline::scan {

/// A height measured somewhere over the parameters of a base.
struct FieldPoint {
    Vec2 uv{0, 0};        ///< [mm]
    double height = 0.0;  ///< [mm]
    double weight = 1.0;  ///< [mm2] of surface that it stands for; 0: not believed
};

/// The rectangle of parameters that a field is drawn over, in square cells.
struct FieldGrid {
    Vec2 low{0, 0};
    double cell = 1.0;  ///< [mm] between knots
    int columns = 1, rows = 1;

    [[nodiscard]] int cells() const { return columns * rows; }
    [[nodiscard]] int poles() const { return (columns + 3) * (rows + 3); }
    /// The cell a place lies in; places outside belong to the nearest.
    [[nodiscard]] std::array<int, 2> cell_of(const Vec2& uv) const;
    [[nodiscard]] bool holds(const Vec2& uv) const;

    /// Over a box, its cells no larger than asked.
    [[nodiscard]] static FieldGrid over(const Vec2& low, const Vec2& high, double largest_cell);
};

class FieldFactor;

/// Where matrices over a field's poles are filled.
struct PolePattern {
    using Sparse = Eigen::SparseMatrix<double>;
    Sparse matrix;                  ///< lower half, of noughts
    std::vector<std::size_t> slot;  ///< per number of it: where a `PoleMatrix` keeps it
};

/// A fair height field: a tensor cubic B-spline.
class FairField {
public:
    [[nodiscard]] double at(const Vec2& uv) const;
    [[nodiscard]] TwoArc::Height jet(const Vec2& uv) const;
    [[nodiscard]] const FieldGrid& grid() const { return grid_; }

    /// How noise in the points comes through to the field's value at a place: its variance there
    /// for noise of a density of 1 mm4, the integral of its correlation [-].
    [[nodiscard]] double noise_gain(const Vec2& uv) const;
    /// The same for its slope, the larger of both ways [1/mm2].
    [[nodiscard]] double slope_noise_gain(const Vec2& uv) const;

private:
    friend class FairFit;
    [[nodiscard]] double gain(const Vec2& uv, int du, int dv) const;

    FieldGrid grid_;
    Eigen::VectorXd poles_;
    PolePattern::Sparse gram_;  ///< sum of weight times products of functions, lower half
    std::shared_ptr<FieldFactor> factor_;
};

/// Fits fair fields of the same fairness to points, as often as their weights change.
///
/// A field minimises the integral of (g - height)^2 over the points plus (l / 2 pi)^6 times the
/// integral of its third derivatives squared (1, 3, 3, 1) over the whole rectangle. Where points
/// lie close a wave of length w keeps 1 / (1 + (l / w)^6) of its height; where none lie the field
/// goes on as fairly as it can, and parabolas are free.
class FairFit {
public:
    /// @param lengths  [mm] the fairness l of each cell, row by row; knots at l / 10 or finer. A
    /// cell
    ///                 of no length is none of the field, which is not to be asked there
    FairFit(const FieldGrid& grid, std::span<const double> lengths);

    /// @return  nothing where those points that have a weight pin down no parabola, as along a line
    [[nodiscard]] std::optional<FairField> through(std::span<const FieldPoint> points);
    [[nodiscard]] const FieldGrid& grid() const { return grid_; }

private:
    FieldGrid grid_;
    std::vector<bool> of_field_;  ///< per cell
    PolePattern filled_;
    PolePattern::Sparse price_;            ///< of unfairness, lower half
    std::shared_ptr<FieldFactor> factor_;  ///< of the last fit
};

}  // namespace tearline::scan

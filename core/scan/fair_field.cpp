#include "core/scan/fair_field.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/scan/field_factor.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

using Four = Eigen::Vector4d;
using Sixteen = Eigen::Matrix<double, 16, 1>;
using Block = Eigen::Matrix<double, 16, 16>;

/// The four cubic B-splines that live on a cell, or a derivative of them by x, at x in [0, 1].
Four functions(double x, int derivative) {
    const double y = 1.0 - x;
    switch (derivative) {
        case 0:
            return Four(y * y * y, 3 * x * x * x - 6 * x * x + 4, 3 * y * y * y - 6 * y * y + 4,
                        x * x * x) /
                   6.0;
        case 1:
            return Four(-y * y, 3 * x * x - 4 * x, -3 * y * y + 4 * y, x * x) / 2.0;
        case 2:
            return {y, 3 * x - 2, 3 * y - 2, x};
        default:
            return {-1.0, 3.0, -3.0, 1.0};
    }
}

/// Integrals over a cell of side 1 of the products of those functions' derivatives.
Eigen::Matrix4d products(int derivative) {
    // Gauss's rule of four points: exact to degree 7, and the products are of degree 6 at most.
    constexpr std::array<double, 2> place{0.3399810435848563, 0.8611363115940526};
    constexpr std::array<double, 2> share{0.6521451548625461, 0.3478548451374538};
    Eigen::Matrix4d sum = Eigen::Matrix4d::Zero();
    for (std::size_t i = 0; i < 2; ++i)
        for (const double side : {-1.0, 1.0}) {
            const Four f = functions(0.5 + 0.5 * side * place[i], derivative);
            sum += 0.5 * share[i] * f * f.transpose();
        }
    return sum;
}

/// Integral over a cell of g_uuu^2 + 3 g_uuv^2 + 3 g_uvv^2 + g_vvv^2 for cells of side 1.
Block third_derivatives() {
    constexpr std::array<double, 4> counts{1.0, 3.0, 3.0, 1.0};
    Block block = Block::Zero();
    for (int d = 0; d < 4; ++d) {
        const Eigen::Matrix4d u = products(3 - d), v = products(d);
        for (int a = 0; a < 16; ++a)
            for (int b = 0; b < 16; ++b)
                block(a, b) +=
                    counts[static_cast<std::size_t>(d)] * v(a / 4, b / 4) * u(a % 4, b % 4);
    }
    return block;
}

/// Lower half of a matrix over the poles, by pole and how far ahead its partner lies: at most
/// three rows and three columns.
class PoleMatrix {
public:
    explicit PoleMatrix(const FieldGrid& grid)
        : across_(grid.columns + 3), value_(static_cast<std::size_t>(grid.poles()) * partners) {}

    /// Adds to the sixteen poles of a cell.
    void add(int column, int row, const Block& value) {
        for (int a = 0; a < 16; ++a)
            for (int b = 0; b <= a; ++b) {
                const int rows = a / 4 - b / 4, columns = a % 4 - b % 4;
                at(pole(column, row, b), rows, columns) += value(a, b);
            }
    }

    [[nodiscard]] int pole(int column, int row, int local) const {
        return (row + local / 4) * across_ + column + local % 4;
    }

    /// Poles of no cell stay nought.
    void leave_out_unused() {
        for (std::size_t p = 0; p < value_.size(); p += partners)
            if (value_[p] == 0.0) value_[p] = 1.0;
    }

    /// @param filled  where poles may meet: the same for every matrix of one field
    [[nodiscard]] PolePattern::Sparse lower(const PolePattern& filled) const {
        PolePattern::Sparse matrix = filled.matrix;
        for (std::size_t i = 0; i < filled.slot.size(); ++i)
            matrix.valuePtr()[i] = value_[filled.slot[i]];
        return matrix;
    }

    /// Where this matrix is not nought.
    [[nodiscard]] PolePattern pattern() const {
        const int count = static_cast<int>(value_.size()) / partners;
        PolePattern filled;
        std::vector<int> first{0}, partner;
        for (int p = 0; p < count; ++p) {
            for (int k = 0; k < partners; ++k) {
                const std::size_t slot =
                    static_cast<std::size_t>(p) * partners + static_cast<std::size_t>(k);
                if (value_[slot] == 0.0) continue;
                const int rows = (k + 3) / 7, columns = (k + 3) % 7 - 3;
                partner.push_back(p + rows * across_ + columns);
                filled.slot.push_back(slot);
            }
            first.push_back(static_cast<int>(partner.size()));
        }
        const std::vector<double> nought(partner.size(), 0.0);
        filled.matrix = Eigen::Map<const PolePattern::Sparse>(
            count, count, static_cast<Eigen::Index>(partner.size()), first.data(), partner.data(),
            nought.data());
        return filled;
    }

private:
    /// Of one row: itself and three ahead; of the next three: three before to three ahead.
    static constexpr int partners = 4 + 3 * 7;
    double& at(int pole, int rows, int columns) {
        return value_[static_cast<std::size_t>(pole) * partners +
                      static_cast<std::size_t>(rows * 7 + columns)];
    }
    int across_;
    std::vector<double> value_;
};

/// A place in its cell.
struct Inside {
    std::array<int, 2> cell;
    double x, y;
};

Inside inside(const FieldGrid& grid, const Vec2& uv) {
    const auto cell = grid.cell_of(uv);
    const Vec2 local = (uv - grid.low) / grid.cell;
    return {cell, local.x() - cell[0], local.y() - cell[1]};
}

/// The sixteen functions of a cell, or a derivative of them [1/mm^n], at a place.
Sixteen functions_at(const FieldGrid& grid, const Inside& place, int du, int dv) {
    const double scale = du + dv == 0 ? 1.0 : std::pow(grid.cell, -du - dv);
    const Four u = scale * functions(place.x, du), v = functions(place.y, dv);
    Sixteen all;
    for (int a = 0; a < 16; ++a) all[a] = v[a / 4] * u[a % 4];
    return all;
}

/// Whether no parabola but nought is nought at all points: not so along a line, or another
/// parabola.
bool pin_parabola(const FieldGrid& grid, std::span<const FieldPoint> points) {
    using Six = Eigen::Matrix<double, 6, 1>;
    const Vec2 half = 0.5 * grid.cell * Vec2(grid.columns, grid.rows);
    Eigen::Matrix<double, 6, 6> sum = Eigen::Matrix<double, 6, 6>::Zero();
    for (const FieldPoint& point : points) {
        if (!(point.weight > 0.0) || !grid.holds(point.uv)) continue;
        const Vec2 p = (point.uv - grid.low - half).cwiseQuotient(half);
        Six row;
        row << 1.0, p.x(), p.y(), p.x() * p.x(), p.x() * p.y(), p.y() * p.y();
        sum += point.weight * row * row.transpose();
    }
    const Six own =
        Eigen::SelfAdjointEigenSolver<decltype(sum)>(sum, Eigen::EigenvaluesOnly).eigenvalues();
    return own[0] > tolerance::pinned * own[5];
}

}  // namespace

std::array<int, 2> FieldGrid::cell_of(const Vec2& uv) const {
    const Vec2 local = (uv - low) / cell;
    return {std::clamp(static_cast<int>(std::floor(local.x())), 0, columns - 1),
            std::clamp(static_cast<int>(std::floor(local.y())), 0, rows - 1)};
}

bool FieldGrid::holds(const Vec2& uv) const {
    const Vec2 local = (uv - low) / cell;
    return local.x() >= 0.0 && local.y() >= 0.0 && local.x() <= columns && local.y() <= rows;
}

FieldGrid FieldGrid::over(const Vec2& low, const Vec2& high, double largest_cell) {
    const Vec2 size = high - low;
    FieldGrid grid;
    grid.cell = largest_cell;
    grid.columns = std::max(1, static_cast<int>(std::ceil(size.x() / grid.cell)));
    grid.rows = std::max(1, static_cast<int>(std::ceil(size.y() / grid.cell)));
    const Vec2 spare = grid.cell * Vec2(grid.columns, grid.rows) - size;
    grid.low = low - 0.5 * spare;
    return grid;
}

FairFit::FairFit(const FieldGrid& grid, std::span<const double> lengths) : grid_(grid) {
    static const Block thirds = third_derivatives();
    PoleMatrix price(grid), filled(grid);
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column) {
            // Cells of side c: third derivatives squared have c^-6, and the cell's area c^2.
            const double l = lengths[of_field_.size()] / (2.0 * std::numbers::pi * grid.cell);
            of_field_.push_back(l > 0.0);
            if (!of_field_.back()) continue;
            price.add(column, row, std::pow(l, 6) * grid.cell * grid.cell * thirds);
            filled.add(column, row, Block::Ones());
        }
    price.leave_out_unused();
    filled.leave_out_unused();
    filled_ = filled.pattern();
    price_ = price.lower(filled_);
}

std::optional<FairField> FairFit::through(std::span<const FieldPoint> points) {
    if (!pin_parabola(grid_, points)) return std::nullopt;
    // By cell: a cell's sixteen functions meet all its points, and then the matrix, once.
    std::vector<std::vector<const FieldPoint*>> by_cell(static_cast<std::size_t>(grid_.cells()));
    for (const FieldPoint& point : points) {
        if (!(point.weight > 0.0) || !grid_.holds(point.uv)) continue;
        const auto [column, row] = grid_.cell_of(point.uv);
        by_cell[static_cast<std::size_t>(row * grid_.columns + column)].push_back(&point);
    }
    PoleMatrix gram(grid_);
    Eigen::VectorXd right = Eigen::VectorXd::Zero(grid_.poles());
    for (std::size_t cell = 0; cell < by_cell.size(); ++cell) {
        if (by_cell[cell].empty() || !of_field_[cell]) continue;
        Block products = Block::Zero();
        Sixteen heights = Sixteen::Zero();
        for (const FieldPoint* point : by_cell[cell]) {
            const Sixteen f = functions_at(grid_, inside(grid_, point->uv), 0, 0);
            products.noalias() += (point->weight * f) * f.transpose();
            heights += point->weight * point->height * f;
        }
        const int column = static_cast<int>(cell) % grid_.columns;
        const int row = static_cast<int>(cell) / grid_.columns;
        gram.add(column, row, products);
        for (int a = 0; a < 16; ++a) right[gram.pole(column, row, a)] += heights[a];
    }
    FairField field;
    field.grid_ = grid_;
    field.gram_ = gram.lower(filled_);
    PolePattern::Sparse both = price_;
    both.coeffs() += field.gram_.coeffs();
    // Where no field holds the factor of the last fit any more, its order and room serve again.
    if (!factor_ || factor_.use_count() > 1) factor_ = std::make_shared<FieldFactor>();
    if (!factor_->compute(both)) return std::nullopt;
    field.poles_ = factor_->solve(right);
    field.factor_ = factor_;
    return field;
}

double FairField::at(const Vec2& uv) const {
    const Inside place = inside(grid_, uv);
    const int across = grid_.columns + 3;
    const Four u = functions(place.x, 0), v = functions(place.y, 0);
    double sum = 0.0;
    for (int a = 0; a < 4; ++a) {
        const double* row = poles_.data() + (place.cell[1] + a) * across + place.cell[0];
        sum += v[a] * (u[0] * row[0] + u[1] * row[1] + u[2] * row[2] + u[3] * row[3]);
    }
    return sum;
}

TwoArc::Height FairField::jet(const Vec2& uv) const {
    const Inside place = inside(grid_, uv);
    const int across = grid_.columns + 3;
    Eigen::Matrix4d poles;  // row by row of the cell
    for (int a = 0; a < 16; ++a)
        poles(a / 4, a % 4) = poles_[(place.cell[1] + a / 4) * across + place.cell[0] + a % 4];
    const auto of = [&](int du, int dv) {
        return functions(place.y, dv).dot(poles * functions(place.x, du)) *
               std::pow(grid_.cell, -du - dv);
    };
    return {of(0, 0), of(1, 0), of(0, 1), of(2, 0), of(1, 1), of(0, 2)};
}

double FairField::gain(const Vec2& uv, int du, int dv) const {
    const Inside place = inside(grid_, uv);
    const auto f = functions_at(grid_, place, du, dv);
    Eigen::VectorXd row = Eigen::VectorXd::Zero(grid_.poles());
    const int across = grid_.columns + 3;
    for (int a = 0; a < 16; ++a)
        row[(place.cell[1] + a / 4) * across + place.cell[0] + a % 4] = f[a];
    // value = f' H^-1 (sum of w h f_i): the influence squared, integrated, is x' G x with x = H^-1
    // f.
    const Eigen::VectorXd x = factor_->solve(row);
    return x.dot(gram_.selfadjointView<Eigen::Lower>() * x);
}

double FairField::noise_gain(const Vec2& uv) const {
    return gain(uv, 0, 0);
}

double FairField::slope_noise_gain(const Vec2& uv) const {
    return std::max(gain(uv, 1, 0), gain(uv, 0, 1));
}

}  // namespace tearline::scan

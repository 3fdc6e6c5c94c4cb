#include "core/hull/fair_spline.h"

#include <BSplCLib.hxx>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <limits>
#include <math_Matrix.hxx>
#include <optional>
#include <stdexcept>

#include "core/hull/tolerances.h"

namespace tearline::hull {

SplineBasis::SplineBasis(std::vector<double> sites)
    : sites_(std::move(sites)), degree_(std::min(3, static_cast<int>(sites_.size()) - 1)) {
    knots_.assign(static_cast<std::size_t>(degree_) + 1, sites_.front());
    if (degree_ == 3)  // not-a-knot: the second site and the last but one are no knots
        knots_.insert(knots_.end(), sites_.begin() + 2, sites_.end() - 2);
    knots_.insert(knots_.end(), static_cast<std::size_t>(degree_) + 1, sites_.back());
}

Eigen::VectorXd SplineBasis::at(double place, int derivative) const {
    Eigen::VectorXd values = Eigen::VectorXd::Zero(size());
    if (derivative > degree_) return values;
    if (degree_ == 0) return Eigen::VectorXd::Ones(1);
    const TColStd_Array1OfReal flat(knots_.front(), 1, static_cast<int>(knots_.size()));
    math_Matrix found(1, derivative + 1, 1, degree_ + 1);
    int first = 0;
    if (BSplCLib::EvalBsplineBasis(derivative, degree_ + 1, flat, place, first, found) != 0)
        throw std::logic_error("a spline basis without a span for its place");
    for (int k = 0; k <= degree_; ++k) values[first - 1 + k] = found(derivative + 1, k + 1);
    return values;
}

Eigen::MatrixXd SplineBasis::collocation() const {
    const auto n = static_cast<Eigen::Index>(sites_.size());
    Eigen::MatrixXd rows(n, n);
    for (Eigen::Index i = 0; i < n; ++i)
        rows.row(i) = at(sites_[static_cast<std::size_t>(i)]).transpose();
    return rows;
}

Eigen::MatrixXd SplineBasis::unfairness() const {
    const auto n = static_cast<Eigen::Index>(sites_.size());
    Eigen::MatrixXd sum = Eigen::MatrixXd::Zero(n, n);
    if (degree_ < 3) return sum;
    // Third derivatives of cubics are constant between knots.
    for (std::size_t k = 3; k + 4 < knots_.size(); ++k) {
        const double width = knots_[k + 1] - knots_[k];
        if (!(width > 0.0)) continue;
        const Eigen::VectorXd third = at(0.5 * (knots_[k] + knots_[k + 1]), 3);
        sum += width * third * third.transpose();
    }
    return sum;
}

namespace {

/// A direction of the table: what its functions cost, in a basis in which they cost apart.
struct Direction {
    Eigen::MatrixXd modes;  ///< columns: values at the sites, orthonormal
    Eigen::VectorXd price;  ///< of each mode, ascending, in units of the spacing
    Eigen::MatrixXd to_poles;

    explicit Direction(const SplineBasis& basis) {
        to_poles = basis.collocation().inverse();
        const auto spans = static_cast<double>(basis.sites().size() - 1);
        const double spacing =
            spans > 0.0 ? (basis.sites().back() - basis.sites().front()) / spans : 1.0;
        // Scaled so that the same smoothing means the same whatever the spacing.
        const Eigen::MatrixXd cost =
            std::pow(spacing, 5) * to_poles.transpose() * basis.unfairness() * to_poles;
        const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(0.5 *
                                                                    (cost + cost.transpose()));
        modes = solver.eigenvectors();
        price = solver.eigenvalues().cwiseMax(0.0);
        // Parabolas are free; rounding must not price them.
        for (Eigen::Index i = 0; i < std::min<Eigen::Index>(3, price.size()); ++i) price[i] = 0.0;
    }
};

/// The share of each pair of modes that the smoothing leaves.
Eigen::MatrixXd kept_of(const Direction& rows, const Direction& columns, double smoothing) {
    Eigen::MatrixXd kept(rows.price.size(), columns.price.size());
    for (Eigen::Index a = 0; a < kept.rows(); ++a)
        for (Eigen::Index b = 0; b < kept.cols(); ++b)
            kept(a, b) = 1.0 / (1.0 + smoothing * (rows.price[a] + columns.price[b]));
    return kept;
}

class Smoother {
public:
    Smoother(const SplineBasis& rows, const SplineBasis& columns)
        : rows_(rows), columns_(columns) {}

    struct Fit {
        Eigen::MatrixXd fitted;
        Eigen::MatrixXd share;  ///< of its own figure in each fitted one
        double freedom = 0.0;   ///< figures left over for telling the scatter
        double smoothing = 0.0;
        double score = std::numeric_limits<double>::infinity();
    };

    [[nodiscard]] Fit fit(const Eigen::MatrixXd& heights, double smoothing) const {
        const Eigen::MatrixXd part = rows_.modes.transpose() * heights * columns_.modes;
        const Eigen::MatrixXd kept = kept_of(rows_, columns_, smoothing);
        Fit fit;
        fit.smoothing = smoothing;
        fit.fitted = rows_.modes * kept.cwiseProduct(part) * columns_.modes.transpose();
        fit.share = rows_.modes.cwiseAbs2() * kept * columns_.modes.cwiseAbs2().transpose();
        fit.freedom = static_cast<double>(kept.size()) - kept.sum();
        return fit;
    }

    [[nodiscard]] Eigen::MatrixXd poles(const Eigen::MatrixXd& fitted) const {
        return rows_.to_poles * fitted * columns_.to_poles.transpose();
    }

private:
    Direction rows_, columns_;
};

constexpr int smoothings = 33;  ///< tried, half a decade apart
constexpr double first_smoothing = -8.0;

double smoothing_of(int step) {
    return std::pow(10.0, first_smoothing + 0.5 * step);
}

/// The score of a fit with `missing` of its sum of squares taken out: small where left-out figures
/// are foretold well.
double score(double squares, double count, double freedom) {
    if (!(freedom > tolerance::least_freedom * count))
        return std::numeric_limits<double>::infinity();
    const double floor = tolerance::reading_floor * tolerance::reading_floor;
    // Each figure that the fit has used up counts a little more than once, or small tables are
    // smoothed too little now and then (Kim and Gu 2004, who take 1.4; over hull-like arcs that
    // flattens nets of 7 by 7 and 9 by 9 by up to the reading error, and 1.1 does not).
    constexpr double used_up = 1.1;
    const double left = count - used_up * (count - freedom);
    if (!(left > 0.0)) return std::numeric_limits<double>::infinity();
    return (std::max(squares, 0.0) / count + floor) / std::pow(left / count, 2);
}

Smoother::Fit best_fit(const Smoother& smoother, const Eigen::MatrixXd& heights) {
    Smoother::Fit best;
    best.fitted = heights;
    for (int step = 0; step < smoothings; ++step) {
        Smoother::Fit fit = smoother.fit(heights, smoothing_of(step));
        fit.score = score((fit.fitted - heights).squaredNorm(), static_cast<double>(heights.size()),
                          fit.freedom);
        if (fit.score < best.score) best = std::move(fit);
    }
    return best;
}

/// How far off chance alone may put a figure that the others foretell, for one that shares nothing
/// with them [mm].
/// @param squares  of the others' misses; `freedom` of them are left over
/// @source  Student's t from a normal deviate by Wallace's approximation (1959), inverted
double chance(double squares, double freedom) {
    const double free = std::max(freedom, 1.0);
    const double deviate = tolerance::slip_deviates * (8.0 * free + 3.0) / (8.0 * free + 1.0);
    const double t = std::sqrt(free * std::expm1(deviate * deviate / free));
    const double scatter =
        std::hypot(std::sqrt(std::max(squares, 0.0) / free), tolerance::reading_floor);
    return t * scatter;
}

/// The figure whose absence helps most, when it is farther off than the rest can explain.
std::optional<Suspicion> worst_figure(const Smoother& smoother, const Eigen::MatrixXd& heights) {
    const auto count = static_cast<double>(heights.size());
    double best = std::numeric_limits<double>::infinity();
    std::optional<Suspicion> worst;
    double by_chance = 0.0;
    for (int step = 0; step < smoothings; ++step) {
        const Smoother::Fit fit = smoother.fit(heights, smoothing_of(step));
        const Eigen::MatrixXd off = heights - fit.fitted;
        for (Eigen::Index i = 0; i < off.rows(); ++i)
            for (Eigen::Index j = 0; j < off.cols(); ++j) {
                const double own = 1.0 - fit.share(i, j);
                if (!(own > tolerance::least_freedom)) continue;
                const double gone = off(i, j) * off(i, j) / own;
                const double left = off.squaredNorm() - gone;
                const double now = score(left, count - 1.0, fit.freedom - 1.0);
                if (!(now < best)) continue;
                best = now;
                by_chance = chance(left, fit.freedom - 1.0) / std::sqrt(own);
                worst = {i, j, heights(i, j), heights(i, j) - off(i, j) / own};
            }
    }
    if (!worst) return worst;
    const double off = std::abs(worst->figure - worst->expected);
    if (!(off > tolerance::slip_least && off > by_chance)) return std::nullopt;
    return worst;
}

/// How far off a figure must be to stand out, for half of the figures [mm].
double least_told(const Smoother::Fit& fit, const Eigen::MatrixXd& heights) {
    if (!(fit.freedom - 1.0 > tolerance::least_freedom * static_cast<double>(heights.size())))
        return std::numeric_limits<double>::infinity();
    const double alone = chance((heights - fit.fitted).squaredNorm(), fit.freedom - 1.0);
    std::vector<double> all;
    for (Eigen::Index i = 0; i < fit.share.size(); ++i) {
        const double own = 1.0 - *(fit.share.data() + i);
        all.push_back(own > tolerance::least_freedom ? alone / std::sqrt(own)
                                                     : std::numeric_limits<double>::infinity());
    }
    const auto middle = all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2);
    std::nth_element(all.begin(), middle, all.end());
    return std::max(*middle, tolerance::slip_least);
}

}  // namespace

FairTable fair_table(const SplineBasis& rows, const SplineBasis& columns,
                     const Eigen::MatrixXd& heights) {
    const Smoother smoother(rows, columns);
    FairTable table;
    Eigen::MatrixXd trusted = heights;
    constexpr std::size_t most_suspicions = 5;
    while (table.suspicious.size() < most_suspicions) {
        const auto worst = worst_figure(smoother, trusted);
        if (!worst) break;
        trusted(worst->row, worst->column) = worst->expected;
        table.suspicious.push_back(*worst);
    }
    const Smoother::Fit best = best_fit(smoother, trusted);
    table.fitted = best.fitted;
    table.smoothing = best.smoothing;
    table.tells = least_told(best, trusted);
    table.poles = smoother.poles(table.fitted);
    return table;
}

FairResponse::FairResponse(const SplineBasis& rows, const SplineBasis& columns, double smoothing) {
    const Direction by_row(rows), by_column(columns);
    row_modes_ = by_row.modes;
    column_modes_ = by_column.modes;
    rows_of_poles_ = by_row.to_poles * by_row.modes;
    columns_of_poles_ = by_column.to_poles * by_column.modes;
    kept_ = kept_of(by_row, by_column, smoothing);
}

Eigen::MatrixXd FairResponse::per_figure(const Eigen::MatrixXd& per_pole) const {
    const Eigen::MatrixXd part = rows_of_poles_.transpose() * per_pole * columns_of_poles_;
    return row_modes_ * kept_.cwiseProduct(part) * column_modes_.transpose();
}

}  // namespace tearline::hull

#pragma once
#include <Eigen/Core>
#include <vector>

namespace tearline::hull {

/// Spline basis through as many sites as it has functions: cubic and not-a-knot where there are
/// sites enough, so that no end is drawn straight.
class SplineBasis {
public:
    /// @param sites  [mm] ascending; one alone has a single function, which is constant
    explicit SplineBasis(std::vector<double> sites);

    [[nodiscard]] Eigen::Index size() const { return static_cast<Eigen::Index>(sites_.size()); }
    [[nodiscard]] int degree() const { return degree_; }
    [[nodiscard]] const std::vector<double>& sites() const { return sites_; }
    /// Every knot as often as it counts.
    [[nodiscard]] const std::vector<double>& knots() const { return knots_; }

    /// Value of each function, or of its derivative, at a place.
    [[nodiscard]] Eigen::VectorXd at(double place, int derivative = 0) const;
    /// Row i: every function at site i.
    [[nodiscard]] Eigen::MatrixXd collocation() const;
    /// Integral of the products of third derivatives: zero for straight lines and parabolas, which
    /// are as fair as can be.
    [[nodiscard]] Eigen::MatrixXd unfairness() const;

private:
    std::vector<double> sites_, knots_;
    int degree_;
};

/// One figure of a table that its neighbours contradict.
struct Suspicion {
    Eigen::Index row = 0, column = 0;
    double figure = 0.0;    ///< [mm] as given
    double expected = 0.0;  ///< [mm] by all others
};

/// A table of heights with the fair surface through it.
struct FairTable {
    Eigen::MatrixXd fitted;  ///< [mm] the surface at each place
    Eigen::MatrixXd poles;   ///< [mm] of the tensor spline
    double smoothing = 0.0;  ///< [-] the price found; 0 where the surface meets every figure
    /// [mm] a figure wrong by less does not stand out, for half of the figures; infinite where none
    /// is left over to tell by.
    double tells = 0.0;
    /// Figures that all others contradict by far more than they scatter, the worst first. They are
    /// left out of the surface.
    std::vector<Suspicion> suspicious;
};

/// A fair surface near every figure of a table: least squares with a price on third derivatives.
///
/// How much is smoothed is found from the table itself, by leaving out each figure in turn and
/// comparing (generalised cross-validation); readings are not trusted below
/// tolerance::reading_floor.
/// @param heights  [mm] row i at the site i of `rows`, column j at the site j of `columns`
/// @source  Craven and Wahba, Smoothing noisy data with spline functions (1979); tensor splines in
///          the eigenbasis of their penalties
[[nodiscard]] FairTable fair_table(const SplineBasis& rows, const SplineBasis& columns,
                                   const Eigen::MatrixXd& heights);

/// What each figure of a table does to a quantity that follows the poles of the surface through it,
/// the smoothing held.
class FairResponse {
public:
    FairResponse(const SplineBasis& rows, const SplineBasis& columns, double smoothing);

    /// @param per_pole  change of the quantity for each pole, by its row and column
    /// @return          its change for each figure
    [[nodiscard]] Eigen::MatrixXd per_figure(const Eigen::MatrixXd& per_pole) const;

private:
    Eigen::MatrixXd row_modes_, column_modes_;          ///< values at the sites
    Eigen::MatrixXd rows_of_poles_, columns_of_poles_;  ///< the same modes by their poles
    Eigen::MatrixXd kept_;                              ///< share of each pair of modes
};

}  // namespace tearline::hull

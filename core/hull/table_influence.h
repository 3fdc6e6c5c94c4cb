#pragma once
#include <Eigen/Core>
#include <vector>

#include "core/base/vec.h"
#include "core/hull/fair_spline.h"

namespace tearline::hull {

/// How the surface through a table of figures moves with each of them, to first order.
class TableInfluence {
public:
    /// Unit directions: `rows` and `columns` measure the sites from the origin, a greater figure
    /// moves the surface along `out`, or along -out where that is the side of the origin it lies.
    struct Axes {
        Vec3 rows, columns, out;
        bool two_sided = false;  ///< figures count from the origin to both sides: half-breadths
    };
    TableInfluence(SplineBasis rows, SplineBasis columns, const FairTable& table, const Axes& axes);

    /// One pole that is felt at a place of the surface.
    struct Term {
        Eigen::Index pole = 0;  ///< row by row
        double weight = 0.0;    ///< [-] movement along out() for each mm of the pole
        Vec3 slope{0, 0, 0};    ///< [1/mm] how the weight changes from place to place
    };
    [[nodiscard]] std::vector<Term> terms(const Vec3& place) const;
    [[nodiscard]] Vec3 out(const Vec3& place) const;

    [[nodiscard]] Eigen::Index poles() const { return rows_.size() * columns_.size(); }

    /// What each figure does to quantities that follow the poles; figures that the surface leaves
    /// out do nothing.
    /// @param per_pole  a row for each quantity, a column for each pole
    /// @return          a row for each quantity, a column for each figure, row by row of the table
    [[nodiscard]] Eigen::MatrixXd per_figure(const Eigen::MatrixXd& per_pole) const;

private:
    SplineBasis rows_, columns_;
    FairResponse response_;
    std::vector<Eigen::Index> left_out_;
    Axes axes_;
};

}  // namespace tearline::hull

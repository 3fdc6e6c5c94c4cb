#pragma once
#include <Eigen/SparseCore>
#include <memory>

namespace tearline::scan {

/// The factored matrix of a field: by dense blocks where the library for them is installed and the
/// field has many poles, else column by column.
class FieldFactor {
public:
    FieldFactor();
    ~FieldFactor();
    FieldFactor(const FieldFactor&) = delete;
    FieldFactor& operator=(const FieldFactor&) = delete;

    /// @param lower  lower triangle with diagonal, filled as at every call before
    /// @return  false when the matrix is not positive definite
    [[nodiscard]] bool compute(const Eigen::SparseMatrix<double>& lower);

    [[nodiscard]] Eigen::VectorXd solve(const Eigen::VectorXd& right);

private:
    struct Ways;
    std::unique_ptr<Ways> ways_;
};

}  // namespace tearline::scan

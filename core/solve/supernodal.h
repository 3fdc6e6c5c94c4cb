#pragma once
#include <Eigen/SparseCore>
#include <memory>

#include "core/solve/column_blocks.h"

namespace tearline::solve {

/// CHOLMOD's supernodal L L^T with its work space kept between solves; for one thread at a time.
class Supernodal {
public:
    /// Loads the library at the first call; nothing where it is not installed.
    [[nodiscard]] static std::unique_ptr<Supernodal> load();

    Supernodal(const Supernodal&) = delete;
    Supernodal& operator=(const Supernodal&) = delete;
    ~Supernodal();

    /// @param lower  lower triangle with diagonal, compressed
    /// @return  false when the matrix is not positive definite
    [[nodiscard]] bool compute(const Eigen::SparseMatrix<double>& lower);
    /// The same for a matrix that is filled where the one before it was: the order of elimination
    /// and the room for the factor are used again.
    [[nodiscard]] bool compute_again(const Eigen::SparseMatrix<double>& lower);

    /// Room for right sides, a column each, to be filled before they are solved.
    [[nodiscard]] Eigen::Map<Eigen::MatrixXd> right_sides(Eigen::Index columns);
    /// What solves the right sides; there until the next solve.
    [[nodiscard]] Eigen::Map<const Eigen::MatrixXd> solved();

    /// The factor itself, for two right sides: the library hands its dense blocks to a BLAS, which
    /// with so few takes as long again. There until the next matrix.
    [[nodiscard]] ColumnBlocks columns() const;

private:
    Supernodal();
    struct Work;
    std::unique_ptr<Work> work_;
};

}  // namespace tearline::solve

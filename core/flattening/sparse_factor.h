#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <memory>
#include <optional>

#include "core/flattening/membrane_energy.h"
#include "core/solve/column_blocks.h"

namespace tearline::solve {
class Supernodal;
}

namespace tearline::flattening {

/// A factored symmetric positive definite matrix, solved for both plane coordinates at once.
///
/// Column-by-column elimination for small meshes, supernodal above `tolerance::supernodal_from`
/// vertices, where its dense blocks win.
class SparseFactor {
public:
    SparseFactor();
    ~SparseFactor();
    SparseFactor(SparseFactor&&) noexcept;
    SparseFactor& operator=(SparseFactor&&) noexcept;

    /// @param lower  lower triangle with diagonal, compressed
    /// @return  false when the matrix is not positive definite
    [[nodiscard]] bool compute(const Eigen::SparseMatrix<double>& lower);

    void solve(const Places& right, Places& out);

private:
    struct Columns;
    std::unique_ptr<Columns> columns_;
    std::unique_ptr<solve::Supernodal> dense_;
    std::optional<solve::ColumnBlocks> blocks_;  ///< of whichever it is
};

/// Lower triangle of the cotangent Laplacian of a membrane's edge lengths, with one vertex held
/// (its row and column are the identity's), which makes it definite on a connected mesh.
[[nodiscard]] Eigen::SparseMatrix<double> held_laplacian(const MembraneEnergy& energy,
                                                         std::int32_t held);

}  // namespace tearline::flattening

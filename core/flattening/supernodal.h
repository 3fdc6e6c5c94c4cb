#pragma once
#include <Eigen/SparseCore>
#include <memory>

#include "core/flattening/membrane_energy.h"

namespace tearline::flattening {

/// CHOLMOD's supernodal L L^T with its work space kept between solves.
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

    void solve(const Places& right, Places& out);

private:
    Supernodal();
    struct Work;
    std::unique_ptr<Work> work_;
};

}  // namespace tearline::flattening

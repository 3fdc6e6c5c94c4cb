#include "core/scan/field_factor.h"

#include <Eigen/SparseCholesky>
#include <mutex>
#include <utility>

#include "core/scan/tolerances.h"
#include "core/solve/supernodal.h"

namespace tearline::scan {

struct FieldFactor::Ways {
    Eigen::SimplicialLLT<Eigen::SparseMatrix<double>> columns;
    std::unique_ptr<solve::Supernodal> blocks;
    bool ordered = false;      // the order of elimination is known
    std::mutex one_at_a_time;  // blocks keep their work space
};

FieldFactor::FieldFactor() : ways_(std::make_unique<Ways>()) {}
FieldFactor::~FieldFactor() = default;

bool FieldFactor::compute(const Eigen::SparseMatrix<double>& lower) {
    const bool again = std::exchange(ways_->ordered, true);
    if (!again && lower.cols() >= tolerance::blocks_from) ways_->blocks = solve::Supernodal::load();
    if (ways_->blocks)
        return again ? ways_->blocks->compute_again(lower) : ways_->blocks->compute(lower);
    if (!again) ways_->columns.analyzePattern(lower);
    ways_->columns.factorize(lower);
    return ways_->columns.info() == Eigen::Success;
}

Eigen::VectorXd FieldFactor::solve(const Eigen::VectorXd& right) {
    if (!ways_->blocks) return ways_->columns.solve(right);
    const std::scoped_lock lock(ways_->one_at_a_time);
    ways_->blocks->right_sides(1) = right;
    return ways_->blocks->solved();
}

}  // namespace tearline::scan

#include "core/flattening/sparse_factor.h"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "core/flattening/tolerances.h"
#include "core/solve/supernodal.h"

namespace tearline::flattening {

using Matrix = Eigen::SparseMatrix<double>;

/// Eigen's column-by-column L D L^T.
struct SparseFactor::Columns {
    Eigen::SimplicialLDLT<Matrix, Eigen::Lower, Eigen::AMDOrdering<int>> factor;

    /// Columns next to each other whose filled rows are the same but for themselves make a block.
    [[nodiscard]] solve::ColumnBlocks blocks() const {
        const auto& lower = factor.matrixL().nestedExpression();
        const int* start = lower.outerIndexPtr();
        const int* row = lower.innerIndexPtr();
        const auto n = static_cast<std::int32_t>(lower.cols());
        const auto goes_on = [&](std::int32_t j) {
            const int height = start[j] - start[j - 1];
            return height > 0 && row[start[j - 1]] == j && start[j + 1] - start[j] == height - 1;
        };
        std::vector<solve::ColumnBlocks::Block> blocks;
        for (std::int32_t j = 0; j < n;) {
            solve::ColumnBlocks::Block block;
            block.first = j;
            do {
                block.under[block.width++] = lower.valuePtr() + start[j++];
            } while (j < n && block.width < solve::ColumnBlocks::widest && goes_on(j));
            block.rows = row + start[j - 1];
            block.below = start[j] - start[j - 1];
            blocks.push_back(block);
        }
        const auto& place = factor.permutationP().indices();
        const auto pivots = factor.vectorD();  // by value
        return {
            {place.begin(), place.end()}, {pivots.begin(), pivots.end()}, std::move(blocks), false};
    }
};

SparseFactor::SparseFactor() = default;
SparseFactor::~SparseFactor() = default;
SparseFactor::SparseFactor(SparseFactor&&) noexcept = default;
SparseFactor& SparseFactor::operator=(SparseFactor&&) noexcept = default;

bool SparseFactor::compute(const Matrix& lower) {
    blocks_.reset();
    dense_ = lower.cols() >= tolerance::supernodal_from ? solve::Supernodal::load() : nullptr;
    if (dense_) {
        if (!dense_->compute(lower)) return false;
        blocks_ = dense_->columns();
        return true;
    }
    columns_ = std::make_unique<Columns>();
    columns_->factor.compute(lower);
    if (columns_->factor.info() != Eigen::Success || !(columns_->factor.vectorD().minCoeff() > 0.0))
        return false;
    blocks_ = columns_->blocks();
    return true;
}

void SparseFactor::solve(const Places& right, Places& out) {
    if (!blocks_) throw std::logic_error("SparseFactor: nothing is factored");
    blocks_->solve(right, out);
}

Matrix held_laplacian(const MembraneEnergy& energy, std::int32_t held) {
    const auto n = static_cast<Eigen::Index>(energy.vertex_count());
    // Three entries a triangle go straight into their columns, the diagonal's apart; each column is
    // then put in order, and its doubles summed: a third of the time of triplets.
    const auto each_edge = [&](auto&& visit) {
        for (std::size_t t = 0; t < energy.triangle_count(); ++t) {
            const auto& v = energy.corners(t);
            for (std::size_t i = 0; i < 3; ++i) {
                const std::size_t j = (i + 1) % 3;
                if (v[i] != held && v[j] != held) visit(t, i, j, std::minmax(v[i], v[j]));
            }
        }
    };
    std::vector<int> begin(static_cast<std::size_t>(n) + 1, 0);
    each_edge([&](auto, auto, auto, const auto& ends) { ++begin[ends.first + 1]; });
    std::partial_sum(begin.begin(), begin.end(), begin.begin());
    std::vector<std::pair<int, double>> entry(static_cast<std::size_t>(begin.back()));
    std::vector<int> end(begin.begin(), begin.end() - 1);
    each_edge([&](std::size_t t, std::size_t i, std::size_t j, const auto& ends) {
        // A column is short, and what it holds comes nearly in order.
        int k = end[ends.first]++;
        for (; k > begin[ends.first] && entry[k - 1].first > ends.second; --k)
            entry[k] = entry[k - 1];
        entry[k] = {ends.second, energy.stiffness(t, i, j)};
    });
    std::vector<double> diagonal(static_cast<std::size_t>(n), 0.0);
    for (std::size_t t = 0; t < energy.triangle_count(); ++t)
        for (std::size_t i = 0; i < 3; ++i)
            diagonal[energy.corners(t)[i]] += energy.stiffness(t, i, i);
    diagonal[held] = 1.0;

    Matrix lower(n, n);
    lower.reserve(static_cast<Eigen::Index>(4 * n));
    for (std::int32_t column = 0; column < n; ++column) {
        lower.startVec(column);
        lower.insertBack(column, column) = diagonal[column];
        for (int k = begin[column]; k < end[column];) {
            const int row = entry[k].first;
            double sum = 0.0;
            for (; k < end[column] && entry[k].first == row; ++k) sum += entry[k].second;
            lower.insertBack(row, column) = sum;
        }
    }
    lower.finalize();
    return lower;
}

}  // namespace tearline::flattening

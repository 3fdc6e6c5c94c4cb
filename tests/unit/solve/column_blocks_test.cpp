#include "core/solve/column_blocks.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <array>
#include <optional>
#include <vector>

namespace tearline::solve {
namespace {

/// L's columns in a row, whole: 6 x 6 and filled below the diagonal everywhere.
constexpr int count = 6;
double entry(int row, int column) {
    if (row < column) return 0.0;
    return row == column ? 2.0 + column : 0.3 * row - 0.7 * column + 0.1;
}

class Factored {
public:
    /// @param widths  of the blocks
    Factored(const std::vector<int>& widths, bool root) : rows_(count) {
        for (int i = 0; i < count; ++i) rows_[i] = i;
        std::vector<double> pivots(count);
        for (int j = 0; j < count; ++j) {
            pivots[j] = entry(j, j);
            for (int i = 0; i < count; ++i) values_.push_back(entry(i, j));
        }
        std::vector<ColumnBlocks::Block> blocks;
        int first = 0;
        for (const int width : widths) {
            ColumnBlocks::Block block;
            block.first = first;
            block.width = width;
            first += width;
            block.below = count - first;
            block.rows = rows_.data() + first;
            for (int w = 0; w < width; ++w) {
                const int j = block.first + w;
                block.under[w] = values_.data() + count * j + j + 1;
            }
            blocks.push_back(block);
        }
        solver_.emplace(std::vector<std::int32_t>{3, 0, 5, 1, 4, 2}, pivots, blocks, root);
    }

    Eigen::Matrix2Xd solved(const Eigen::Matrix2Xd& right) {
        Eigen::Matrix2Xd out;
        solver_->solve(right, out);
        return out;
    }

private:
    std::vector<int> rows_;
    std::vector<double> values_;
    std::optional<ColumnBlocks> solver_;
};

/// The matrix that was factored, in its own order.
Eigen::MatrixXd matrix(bool root) {
    Eigen::MatrixXd lower(count, count), pivots = Eigen::MatrixXd::Identity(count, count);
    for (int i = 0; i < count; ++i)
        for (int j = 0; j < count; ++j) lower(i, j) = entry(i, j);
    if (!root)
        for (int j = 0; j < count; ++j) {
            pivots(j, j) = lower(j, j);
            lower(j, j) = 1.0;
        }
    const Eigen::MatrixXd turned = lower * pivots * lower.transpose();
    const std::array<int, count> place = {3, 0, 5, 1, 4, 2};
    Eigen::MatrixXd out(count, count);
    for (int i = 0; i < count; ++i)
        for (int j = 0; j < count; ++j) out(i, j) = turned(place[i], place[j]);
    return out;
}

TEST(ColumnBlocks, SolvesHoweverTheColumnsAreParted) {
    // By the definition: the matrix times what came out is what went in.
    Eigen::Matrix2Xd right(2, count);
    right << 1.0, -2.0, 3.0, 0.5, 0.0, 7.0, 4.0, 4.0, -1.0, 2.0, 9.0, -3.0;
    for (const bool root : {false, true})
        for (const std::vector<int>& widths :
             {std::vector{1, 1, 1, 1, 1, 1}, std::vector{4, 2}, std::vector{3, 3},
              std::vector{2, 4}, std::vector{1, 3, 2}}) {
            const Eigen::Matrix2Xd out = Factored(widths, root).solved(right);
            EXPECT_LT((matrix(root) * out.transpose() - right.transpose()).norm(), 1e-11);
        }
}

}  // namespace
}  // namespace tearline::solve

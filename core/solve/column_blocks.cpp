#include "core/solve/column_blocks.h"

namespace tearline::solve {

template <int width>
void ColumnBlocks::forward(const Block& block) {
    std::array<Eigen::Vector2d, width> at;
    std::array<const double*, width> value;
    for (int w = 0; w < width; ++w) {
        at[w] = work_[block.first + w];
        for (int u = 0; u < w; ++u) at[w] -= block.under[u][w - u - 1] * at[u];
        if (root_) at[w] /= pivot_[block.first + w];
        work_[block.first + w] = at[w];
        value[w] = block.under[w] + (width - 1 - w);
    }
    for (std::int32_t k = 0; k < block.below; ++k) {
        Eigen::Vector2d sum = work_[block.rows[k]];
        for (int w = 0; w < width; ++w) sum -= value[w][k] * at[w];
        work_[block.rows[k]] = sum;
    }
}

template <int width>
void ColumnBlocks::backward(const Block& block) {
    std::array<Eigen::Vector2d, width> at;
    std::array<const double*, width> value;
    for (int w = 0; w < width; ++w) {
        at[w] = work_[block.first + w];
        if (!root_) at[w] /= pivot_[block.first + w];
        value[w] = block.under[w] + (width - 1 - w);
    }
    for (std::int32_t k = 0; k < block.below; ++k) {
        const Eigen::Vector2d known = work_[block.rows[k]];
        for (int w = 0; w < width; ++w) at[w] -= value[w][k] * known;
    }
    for (int w = width - 1; w >= 0; --w) {
        for (int u = w + 1; u < width; ++u) at[w] -= block.under[w][u - w - 1] * at[u];
        if (root_) at[w] /= pivot_[block.first + w];
        work_[block.first + w] = at[w];
    }
}

void ColumnBlocks::solve(const Eigen::Matrix2Xd& right, Eigen::Matrix2Xd& out) {
    static_assert(widest == 4);
    const auto n = static_cast<std::size_t>(right.cols());
    work_.resize(n);
    for (std::size_t i = 0; i < n; ++i)
        work_[place_[i]] = Eigen::Map<const Eigen::Vector2d>(right.data() + 2 * i);
    for (const Block& block : blocks_) {
        if (block.width == 1) forward<1>(block);
        if (block.width == 2) forward<2>(block);
        if (block.width == 3) forward<3>(block);
        if (block.width == 4) forward<4>(block);
    }
    for (auto block = blocks_.rbegin(); block != blocks_.rend(); ++block) {
        if (block->width == 1) backward<1>(*block);
        if (block->width == 2) backward<2>(*block);
        if (block->width == 3) backward<3>(*block);
        if (block->width == 4) backward<4>(*block);
    }
    out.resize(2, right.cols());
    for (std::size_t i = 0; i < n; ++i)
        Eigen::Map<Eigen::Vector2d>(out.data() + 2 * i) = work_[place_[i]];
}

}  // namespace tearline::solve

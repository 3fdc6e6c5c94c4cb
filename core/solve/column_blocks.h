#pragma once
#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <utility>
#include <vector>

namespace tearline::solve {

/// A factor L D L^T or L L^T as columns that are filled alike below, some at a time: two right
/// sides are carried through them together, each row of theirs fetched once a block.
///
/// Only looks at the factor's own memory, which has to stay: a copy in the order of reading costs
/// what it saves.
class ColumnBlocks {
public:
    static constexpr int widest = 4;

    /// Columns next to each other; each is filled in the block's later columns, then in `rows`.
    struct Block {
        std::int32_t first = 0, width = 0, below = 0;
        const int* rows = nullptr;  ///< `below` of them
        std::array<const double*, widest> under =
            {};  ///< of each column: what follows its diagonal
    };

    /// @param place   of each unknown in the order of elimination
    /// @param pivots  D, or the diagonal of the L of L L^T
    /// @param blocks  from the first column to the last
    /// @param root    whether they are of L L^T
    ColumnBlocks(std::vector<std::int32_t> place, std::vector<double> pivots,
                 std::vector<Block> blocks, bool root)
        : place_(std::move(place)),
          pivot_(std::move(pivots)),
          blocks_(std::move(blocks)),
          root_(root) {}

    void solve(const Eigen::Matrix2Xd& right, Eigen::Matrix2Xd& out);

private:
    template <int width>
    void forward(const Block& block);
    template <int width>
    void backward(const Block& block);

    std::vector<std::int32_t> place_;
    std::vector<double> pivot_;
    std::vector<Block> blocks_;
    bool root_;
    std::vector<Eigen::Vector2d> work_;
};

}  // namespace tearline::solve

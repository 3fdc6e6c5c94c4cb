#include "core/solve/supernodal.h"

#include <gtest/gtest.h>

#include <vector>

namespace tearline::solve {
namespace {

/// Lower half of tridiag(-1, 2, -1).
Eigen::SparseMatrix<double> chain(int count, double end) {
    std::vector<Eigen::Triplet<double>> entries;
    for (int i = 0; i < count; ++i) {
        entries.emplace_back(i, i, i + 1 < count ? 2.0 : end);
        if (i > 0) entries.emplace_back(i, i - 1, -1.0);
    }
    Eigen::SparseMatrix<double> matrix(count, count);
    matrix.setFromTriplets(entries.begin(), entries.end());
    matrix.makeCompressed();
    return matrix;
}

TEST(Supernodal, SolvesAChainForAsManyRightSidesAsThereAre) {
    // Closed form: the discrete Green's function of tridiag(-1, 2, -1),
    // x_i = (i + 1)(n - k) / (n + 1) for i <= k and a unit at k.
    constexpr int n = 500;
    const auto factor = Supernodal::load();
    ASSERT_TRUE(factor);
    ASSERT_TRUE(factor->compute(chain(n, 2.0)));
    for (const Eigen::Index columns : {1, 3, 2}) {
        auto right = factor->right_sides(columns);
        right.setZero();
        for (Eigen::Index c = 0; c < columns; ++c) right(100 * c + 7, c) = 1.0;
        const auto solved = factor->solved();
        ASSERT_EQ(solved.cols(), columns);
        for (Eigen::Index c = 0; c < columns; ++c) {
            const double k = 100.0 * static_cast<double>(c) + 7.0;
            EXPECT_NEAR(solved(3, c), 4.0 * (n - k) / (n + 1.0), 1e-9);
            EXPECT_NEAR(solved(n - 1, c), (k + 1.0) / (n + 1.0), 1e-9);
        }
    }
}

TEST(Supernodal, TellsAMatrixThatIsNotPositiveDefinite) {
    const auto factor = Supernodal::load();
    ASSERT_TRUE(factor);
    EXPECT_FALSE(factor->compute(chain(20, -1.0)));
}

}  // namespace
}  // namespace tearline::solve

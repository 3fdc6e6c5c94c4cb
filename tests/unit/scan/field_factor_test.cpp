#include "core/scan/field_factor.h"

#include <gtest/gtest.h>

#include <vector>

#include "core/scan/tolerances.h"

namespace tearline::scan {
namespace {

/// Lower half of tridiag(-1, 2 + more, -1).
Eigen::SparseMatrix<double> chain(int count, double more = 0.0) {
    std::vector<Eigen::Triplet<double>> entries;
    for (int i = 0; i < count; ++i) {
        entries.emplace_back(i, i, 2.0 + more);
        if (i > 0) entries.emplace_back(i, i - 1, -1.0);
    }
    Eigen::SparseMatrix<double> matrix(count, count);
    matrix.setFromTriplets(entries.begin(), entries.end());
    matrix.makeCompressed();
    return matrix;
}

/// By columns below tolerance::blocks_from unknowns, by blocks from there on.
class FieldFactorOf : public testing::TestWithParam<int> {};

TEST_P(FieldFactorOf, SolvesAChainAgainAndAgain) {
    // Closed form: the discrete Green's function, x_i = (i + 1)(n - k) / (n + 1) for i <= k.
    const int n = GetParam(), k = n / 3;
    FieldFactor factor;
    ASSERT_TRUE(factor.compute(chain(n)));
    Eigen::VectorXd unit = Eigen::VectorXd::Zero(n);
    unit[k] = 1.0;
    const auto green = [&](int i) {
        return i <= k ? (i + 1.0) * (n - k) / (n + 1.0) : (k + 1.0) * (n - i) / (n + 1.0);
    };
    for (int pass = 0; pass < 2; ++pass) {
        const Eigen::VectorXd solved = factor.solve(unit);
        for (const int i : {0, k, k + 1, n - 1}) EXPECT_NEAR(solved[i], green(i), 1e-7) << i;
        // Other values between, and the first ones again.
        ASSERT_TRUE(factor.compute(chain(n, 1.0)));
        const Eigen::VectorXd other = factor.solve(unit);
        const Eigen::VectorXd back = chain(n, 1.0).selfadjointView<Eigen::Lower>() * other;
        EXPECT_LT((back - unit).cwiseAbs().maxCoeff(), 1e-12);
        ASSERT_TRUE(factor.compute(chain(n)));
    }
}

TEST_P(FieldFactorOf, TellsOneThatIsNotPositiveDefiniteAndTakesTheNext) {
    const int n = GetParam();
    FieldFactor factor;
    EXPECT_FALSE(factor.compute(chain(n, -1.0)));
    EXPECT_TRUE(factor.compute(chain(n)));
}

INSTANTIATE_TEST_SUITE_P(Sizes, FieldFactorOf, testing::Values(12, tolerance::blocks_from + 1));

}  // namespace
}  // namespace tearline::scan

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "core/solve/supernodal.h"

/// The Laplacian of a square grid, whose waves are its eigenvectors in closed form.
namespace tearline::solve::grid_solve_test {
namespace {

constexpr int side = 24, count = side * side;
using std::numbers::pi;

/// Lower half of five-point differences, nought beyond the grid, plus `more` on its diagonal.
Eigen::SparseMatrix<double> grid(double more = 0.0) {
    std::vector<Eigen::Triplet<double>> entries;
    for (int j = 0; j < side; ++j)
        for (int i = 0; i < side; ++i) {
            const int at = j * side + i;
            entries.emplace_back(at, at, 4.0 + more);
            if (i > 0) entries.emplace_back(at, at - 1, -1.0);
            if (j > 0) entries.emplace_back(at, at - side, -1.0);
        }
    Eigen::SparseMatrix<double> matrix(count, count);
    matrix.setFromTriplets(entries.begin(), entries.end());
    matrix.makeCompressed();
    return matrix;
}

/// A wave over the grid, and what the matrix multiplies it by.
struct Wave {
    Eigen::VectorXd value{count};
    double factor;

    Wave(int m, int n) {
        for (int j = 0; j < side; ++j)
            for (int i = 0; i < side; ++i)
                value[j * side + i] = std::sin(pi * m * (i + 1) / (side + 1)) *
                                      std::sin(pi * n * (j + 1) / (side + 1));
        factor = 4.0 - 2.0 * std::cos(pi * m / (side + 1)) - 2.0 * std::cos(pi * n / (side + 1));
    }
};

TEST(Supernodal, SolvesWavesByTheirOwnFactor) {
    const auto factor = Supernodal::load();
    ASSERT_TRUE(factor);
    ASSERT_TRUE(factor->compute(grid()));
    auto right = factor->right_sides(3);
    const Wave waves[] = {{1, 1}, {5, 2}, {24, 23}};
    for (int c = 0; c < 3; ++c) right.col(c) = waves[c].value;
    const auto solved = factor->solved();
    for (int c = 0; c < 3; ++c)
        EXPECT_LT((solved.col(c) - waves[c].value / waves[c].factor).cwiseAbs().maxCoeff(), 1e-10);
}

TEST(Supernodal, TakesOtherValuesInTheSamePlaces) {
    // More on the diagonal is more in every wave's factor.
    const auto factor = Supernodal::load();
    ASSERT_TRUE(factor);
    ASSERT_TRUE(factor->compute(grid()));
    const Wave wave(3, 7);
    for (const double more : {0.5, 20.0, 0.0}) {
        ASSERT_TRUE(factor->compute_again(grid(more)));
        factor->right_sides(1).col(0) = wave.value;
        EXPECT_LT(
            (factor->solved().col(0) - wave.value / (wave.factor + more)).cwiseAbs().maxCoeff(),
            1e-10)
            << more;
    }
}

TEST(Supernodal, OneThatFailedIsFactoredAnewAfterwards) {
    // Less than its least factor on the diagonal, and the grid is positive definite no more.
    const auto factor = Supernodal::load();
    ASSERT_TRUE(factor);
    const double least = Wave(1, 1).factor;
    ASSERT_TRUE(factor->compute(grid(-0.99 * least)));
    EXPECT_FALSE(factor->compute_again(grid(-1.01 * least)));
    ASSERT_TRUE(factor->compute_again(grid()));
    const Wave wave(2, 2);
    factor->right_sides(1).col(0) = wave.value;
    EXPECT_LT((factor->solved().col(0) - wave.value / wave.factor).cwiseAbs().maxCoeff(), 1e-10);
}

TEST(Supernodal, GivesTheSameBitsAgainAndFromAnother) {
    std::mt19937 random(4);
    std::uniform_real_distribution<double> any(-1.0, 1.0);
    Eigen::VectorXd right(count);
    for (double& x : right) x = any(random);
    Eigen::VectorXd first;
    for (int run = 0; run < 3; ++run) {
        const auto factor = Supernodal::load();
        ASSERT_TRUE(factor);
        ASSERT_TRUE(factor->compute(grid(0.1)));
        factor->right_sides(1).col(0) = right;
        const Eigen::VectorXd solved = factor->solved().col(0);
        if (run == 0) first = solved;
        EXPECT_EQ((solved - first).cwiseAbs().maxCoeff(), 0.0) << run;
    }
    // And it is the answer: put back into the whole matrix.
    const Eigen::SparseMatrix<double> lower = grid(0.1);
    const Eigen::VectorXd back = lower.selfadjointView<Eigen::Lower>() * first;
    EXPECT_LT((back - right).cwiseAbs().maxCoeff(), 1e-12);
}

TEST(Supernodal, OfOneUnknownDivides) {
    const auto factor = Supernodal::load();
    ASSERT_TRUE(factor);
    Eigen::SparseMatrix<double> one(1, 1);
    one.insert(0, 0) = 4.0;
    one.makeCompressed();
    ASSERT_TRUE(factor->compute(one));
    factor->right_sides(1)(0, 0) = 10.0;
    EXPECT_DOUBLE_EQ(factor->solved()(0, 0), 2.5);
}

}  // namespace
}  // namespace tearline::solve::grid_solve_test

#include "core/flattening/sparse_factor.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <random>

#include "tests/support/analytic_meshes.h"

namespace tearline::flattening {
namespace {

/// A random sparse matrix with a heavy diagonal: symmetric and definite (Gershgorin).
Eigen::MatrixXd definite(std::mt19937& random, Eigen::Index n) {
    std::uniform_real_distribution<double> entry(-1.0, 1.0);
    Eigen::MatrixXd m = Eigen::MatrixXd::Zero(n, n);
    for (Eigen::Index i = 0; i < n; ++i)
        for (Eigen::Index j = 0; j < i; ++j)
            if (random() % 4 == 0) m(i, j) = m(j, i) = entry(random);
    for (Eigen::Index i = 0; i < n; ++i) m(i, i) = 0.1 + m.row(i).cwiseAbs().sum();
    return m;
}

Eigen::SparseMatrix<double> lower_of(const Eigen::MatrixXd& m) {
    Eigen::SparseMatrix<double> out =
        Eigen::MatrixXd(m.triangularView<Eigen::Lower>()).sparseView();
    out.makeCompressed();
    return out;
}

TEST(SparseFactor, SolvesAsADenseSolverDoes) {
    // Second route: dense LU, both right sides.
    std::mt19937 random(2024);  // fixed start value
    std::uniform_real_distribution<double> entry(-10.0, 10.0);
    for (const Eigen::Index n : {1, 2, 7, 40, 90}) {
        const Eigen::MatrixXd m = definite(random, n);
        Places right(2, n), out;
        for (Eigen::Index i = 0; i < right.size(); ++i) right.data()[i] = entry(random);
        SparseFactor factor;
        ASSERT_TRUE(factor.compute(lower_of(m)));
        factor.solve(right, out);
        const Eigen::MatrixXd expected = m.partialPivLu().solve(right.transpose()).transpose();
        EXPECT_LT((out - expected).norm(), 1e-10 * expected.norm()) << n;
        // Once more with the same factor: nothing is left over from the first.
        const Places twice = 2.0 * right;
        factor.solve(twice, out);
        EXPECT_LT((out - 2.0 * expected).norm(), 1e-10 * expected.norm()) << n;
    }
}

TEST(SparseFactor, SaysWhatIsNotDefinite) {
    Eigen::MatrixXd m = Eigen::MatrixXd::Identity(3, 3);
    m(1, 1) = -2.0;
    SparseFactor factor;
    EXPECT_FALSE(factor.compute(lower_of(m)));
    m(1, 1) = 0.5;
    EXPECT_TRUE(factor.compute(lower_of(m)));
    m(1, 0) = m(0, 1) = 1.0;  // 1 x 0.5 < 1 x 1
    EXPECT_FALSE(factor.compute(lower_of(m)));
}

TEST(HeldLaplacian, IsThatOfTheCotangentsWithOneVertexHeld) {
    // Second route: a dense matrix of half cotangents from the corners' angles.
    const auto mesh = test::on_sphere(test::with_hole(test::disc(50, 4), {15, 0}, 9), 70.0);
    const auto energy = MembraneEnergy::of(mesh);
    ASSERT_TRUE(energy);
    const auto n = static_cast<Eigen::Index>(energy->vertex_count());
    Eigen::MatrixXd expected = Eigen::MatrixXd::Zero(n, n);
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (std::size_t i = 0; i < 3; ++i) {
            const auto& l = mesh.edge_length[t];
            const double a = l[(i + 1) % 3], b = l[(i + 2) % 3];
            const double cosine = (a * a + b * b - l[i] * l[i]) / (2 * a * b);
            const double half = 0.5 * cosine / std::sqrt(1 - cosine * cosine);
            const std::int32_t v = mesh.triangle[t][i], w = mesh.triangle[t][(i + 1) % 3];
            expected(v, v) += half;
            expected(w, w) += half;
            expected(v, w) -= half;
            expected(w, v) -= half;
        }
    const std::int32_t held = 5;
    expected.row(held).setZero();
    expected.col(held).setZero();
    expected(held, held) = 1.0;
    const Eigen::MatrixXd found = Eigen::MatrixXd(held_laplacian(*energy, held));
    EXPECT_LT((found - Eigen::MatrixXd(expected.triangularView<Eigen::Lower>())).norm(), 1e-9);
}

TEST(HeldLaplacian, KeepsLinearFunctionsOnAFlatMesh) {
    // Closed form: cotangent weights are exact for linear functions, so that the Laplacian of x and
    // y is nothing at every inner vertex.
    const auto figure = test::disc(50, 6);
    const auto energy = MembraneEnergy::of(test::on_cylinder(figure, 40.0));
    ASSERT_TRUE(energy);
    const std::int32_t held = static_cast<std::int32_t>(figure.place.size()) - 1;
    const Eigen::SparseMatrix<double> lower = held_laplacian(*energy, held);
    Eigen::MatrixX2d linear(lower.cols(), 2);
    for (Eigen::Index i = 0; i < linear.rows(); ++i)
        linear.row(i) =
            (figure.place[static_cast<std::size_t>(i)] - figure.place.back()).transpose();
    const Eigen::MatrixX2d force = lower.selfadjointView<Eigen::Lower>() * linear;
    // The rim's 36 vertices are pulled outwards; the others rest.
    for (Eigen::Index i = 0; i + 36 < linear.rows(); ++i) EXPECT_LT(force.row(i).norm(), 1e-9) << i;
}

TEST(SparseFactor, SolvesLargeMeshesByBlocksAsSmallOnesByColumns) {
    // A long strip of a chain, 60000 unknowns, above where blocks take over. Closed form: springs
    // of stiffness 1 in a row, the first held, a pull of 1 at the last: unknown i moves by i.
    const Eigen::Index n = 60000;
    std::vector<Eigen::Triplet<double>> entries;
    for (Eigen::Index i = 1; i < n; ++i) {
        entries.emplace_back(i, i, i + 1 < n ? 2.0 : 1.0);
        if (i > 1) entries.emplace_back(i, i - 1, -1.0);
    }
    entries.emplace_back(0, 0, 1.0);
    Eigen::SparseMatrix<double> lower(n, n);
    lower.setFromTriplets(entries.begin(), entries.end());
    SparseFactor factor;
    ASSERT_TRUE(factor.compute(lower));
    Places right = Places::Zero(2, n), out;
    right(0, n - 1) = 1.0;
    right(1, n - 1) = -3.0;
    factor.solve(right, out);
    for (const Eigen::Index i : {0, 1, 2, 999, 30000, 59999}) {
        EXPECT_NEAR(out(0, i), static_cast<double>(i), 1e-5);
        EXPECT_NEAR(out(1, i), -3.0 * static_cast<double>(i), 3e-5);
    }
}

}  // namespace
}  // namespace tearline::flattening

#include "core/hull/fair_spline.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <random>

namespace tearline::hull {
namespace {

const std::vector<double> uneven{0.0, 90.0, 140.0, 300.0, 420.0, 600.0, 700.0};

/// Poles of the spline through values at the sites.
Eigen::VectorXd poles_through(const SplineBasis& basis, double (*f)(double)) {
    Eigen::VectorXd values(basis.size());
    for (Eigen::Index i = 0; i < values.size(); ++i)
        values[i] = f(basis.sites()[static_cast<std::size_t>(i)]);
    return basis.collocation().partialPivLu().solve(values);
}

double cubic(double x) {
    const double t = x / 100.0;
    return 5.0 - 3.0 * t + 2.0 * t * t - 0.25 * t * t * t;
}
double cubic_slope(double x) {
    const double t = x / 100.0;
    return (-3.0 + 4.0 * t - 0.75 * t * t) / 100.0;
}
double parabola(double x) {
    return 40.0 - 0.3 * x + 0.0007 * x * x;
}

TEST(SplineBasis, SumsToOneEverywhere) {
    // Partition of unity; its derivatives sum to nothing.
    for (const auto& sites : {uneven, std::vector<double>{0, 50}, {0, 50, 80}, {0, 10, 20, 35}}) {
        const SplineBasis basis(sites);
        for (double x = 0.0; x <= sites.back(); x += sites.back() / 37.0) {
            EXPECT_NEAR(basis.at(x).sum(), 1.0, 1e-12);
            EXPECT_NEAR(basis.at(x, 1).sum(), 0.0, 1e-12);
            EXPECT_GE(basis.at(x).minCoeff(), -1e-15);
        }
    }
}

TEST(SplineBasis, IsCubicWhereThereAreSitesEnough) {
    EXPECT_EQ(SplineBasis({0, 50}).degree(), 1);
    EXPECT_EQ(SplineBasis({0, 50, 80}).degree(), 2);
    EXPECT_EQ(SplineBasis({0, 10, 20, 35}).degree(), 3);
    const SplineBasis basis(uneven);
    EXPECT_EQ(basis.degree(), 3);
    EXPECT_EQ(basis.size(), 7);
    // As many knots as functions and one more than the degree, ascending.
    EXPECT_EQ(basis.knots().size(), 7u + 3u + 1u);
    EXPECT_TRUE(std::is_sorted(basis.knots().begin(), basis.knots().end()));
}

TEST(SplineBasis, GivesACubicBackExactly) {
    // Not-a-knot: any cubic is in the space, so that what is read at seven sites is the whole of
    // it, with its slopes, between the sites and at the ends.
    const SplineBasis basis(uneven);
    const Eigen::VectorXd poles = poles_through(basis, cubic);
    for (double x = 0.0; x <= 700.0; x += 13.7) {
        EXPECT_NEAR(basis.at(x).dot(poles), cubic(x), 1e-9) << x;
        EXPECT_NEAR(basis.at(x, 1).dot(poles), cubic_slope(x), 1e-11) << x;
    }
    EXPECT_NEAR(basis.at(700.0).dot(poles), cubic(700.0), 1e-9) << "at the very end";
}

TEST(SplineBasis, DerivativesAreThoseOfDifferences) {
    // Second route: central differences between the knots, to h^2.
    const SplineBasis basis(uneven);
    for (const double x : {20.0, 151.0, 260.0, 377.0, 555.0, 690.0})
        for (int order = 0; order < 3; ++order) {
            const double h = 1e-3;
            const Eigen::VectorXd slope =
                (basis.at(x + h, order) - basis.at(x - h, order)) / (2 * h);
            EXPECT_LT((basis.at(x, order + 1) - slope).norm(), 1e-7) << x << " " << order;
        }
}

TEST(SplineBasis, UnfairnessIsNoneForParabolasAndTheIntegralForCubics) {
    // Closed form: a cubic a x^3 has the third derivative 6 a all along, so that the integral of
    // its square over a length L is 36 a^2 L.
    const SplineBasis basis(uneven);
    const Eigen::MatrixXd unfair = basis.unfairness();
    EXPECT_LT((unfair - unfair.transpose()).norm(), 1e-12 * unfair.norm());
    const Eigen::VectorXd flat = poles_through(basis, parabola);
    EXPECT_NEAR(flat.dot(unfair * flat), 0.0, 1e-18 * flat.squaredNorm());
    const Eigen::VectorXd bent = poles_through(basis, cubic);
    const double a = -0.25 / 1e6;
    EXPECT_NEAR(bent.dot(unfair * bent) / (36.0 * a * a * 700.0), 1.0, 1e-6);
}

TEST(FairTable, LeavesWhatIsFairAsItIs) {
    // A parabola both ways has no unfairness: whatever the price, the fit is the table.
    const SplineBasis rows({0, 100, 250, 400, 500}), columns({0, 80, 200, 290, 400, 480});
    Eigen::MatrixXd heights(rows.size(), columns.size());
    for (Eigen::Index i = 0; i < heights.rows(); ++i)
        for (Eigen::Index j = 0; j < heights.cols(); ++j) {
            const double x = rows.sites()[static_cast<std::size_t>(i)],
                         y = columns.sites()[static_cast<std::size_t>(j)];
            heights(i, j) = 30.0 + 2e-4 * x * x - 0.1 * y + 1e-4 * x * y - 3e-4 * y * y;
        }
    const FairTable table = fair_table(rows, columns, heights);
    EXPECT_LT((table.fitted - heights).cwiseAbs().maxCoeff(), 1e-6);
    EXPECT_TRUE(table.suspicious.empty());
    // Its poles are of the surface: evaluated at the sites they give the fit.
    const Eigen::MatrixXd again =
        rows.collocation() * table.poles * columns.collocation().transpose();
    EXPECT_LT((again - table.fitted).cwiseAbs().maxCoeff(), 1e-9);
}

TEST(FairTable, NamesTheOneFigureThatIsWrong) {
    // The same with 12 mm added to one figure: it is named, with what it should have been, and the
    // rest is fitted as if it had not been there.
    std::vector<double> sites;
    for (int i = 0; i < 8; ++i) sites.push_back(100.0 * i);
    const SplineBasis rows(sites), columns(sites);
    Eigen::MatrixXd heights(8, 8);
    std::mt19937 random(88);  // fixed start value
    std::uniform_real_distribution<double> reading(-0.25, 0.25);
    for (Eigen::Index i = 0; i < 8; ++i)
        for (Eigen::Index j = 0; j < 8; ++j) {
            const double x = 100.0 * static_cast<double>(i), y = 100.0 * static_cast<double>(j);
            heights(i, j) = 1e-4 * x * x + 2e-4 * y * y - 1e-4 * x * y + reading(random);
        }
    const double right = heights(3, 5);
    heights(3, 5) += 12.0;
    const FairTable table = fair_table(rows, columns, heights);
    ASSERT_EQ(table.suspicious.size(), 1u);
    EXPECT_EQ(table.suspicious[0].row, 3);
    EXPECT_EQ(table.suspicious[0].column, 5);
    EXPECT_EQ(table.suspicious[0].figure, right + 12.0);
    EXPECT_NEAR(table.suspicious[0].expected, right, 1.0);
    EXPECT_NEAR(table.fitted(3, 5), right, 1.0);
}

TEST(FairResponse, IsTheChangeOfTheFitWithEachFigure) {
    // Second route: the influence of one figure on the fitted value at one place is symmetric, lies
    // between nothing and one at its own place, and is all of it without smoothing.
    const SplineBasis rows({0, 100, 250, 400, 500}), columns({0, 80, 200, 290, 400});
    const auto influence = [&](double smoothing, Eigen::Index i, Eigen::Index j) {
        const FairResponse response(rows, columns, smoothing);
        const Eigen::VectorXd u = rows.at(rows.sites()[static_cast<std::size_t>(i)]);
        const Eigen::VectorXd v = columns.at(columns.sites()[static_cast<std::size_t>(j)]);
        return Eigen::MatrixXd(response.per_figure(u * v.transpose()));
    };
    const Eigen::MatrixXd exact = influence(0.0, 2, 3);
    for (Eigen::Index i = 0; i < exact.rows(); ++i)
        for (Eigen::Index j = 0; j < exact.cols(); ++j)
            EXPECT_NEAR(exact(i, j), i == 2 && j == 3 ? 1.0 : 0.0, 1e-9);
    const Eigen::MatrixXd smooth = influence(1e9, 2, 3), other = influence(1e9, 1, 1);
    EXPECT_GT(smooth(2, 3), 0.0);
    EXPECT_LT(smooth(2, 3), 1.0);
    EXPECT_NEAR(smooth(1, 1), other(2, 3), 1e-9);
    EXPECT_NEAR(smooth.sum(), 1.0, 1e-9) << "a table lifted as a whole lifts the surface";
}

}  // namespace
}  // namespace tearline::hull

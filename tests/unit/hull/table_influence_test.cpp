#include "core/hull/table_influence.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace tearline::hull {
namespace {

std::vector<double> sites(int count, double spacing) {
    std::vector<double> all;
    for (int i = 0; i < count; ++i) all.push_back(spacing * i);
    return all;
}

/// A bulge read with errors of up to 0.3 mm, seed 21.
Eigen::MatrixXd readings(Eigen::Index rows, Eigen::Index columns) {
    std::mt19937 random(21);
    std::uniform_real_distribution<double> error(-0.3, 0.3);
    Eigen::MatrixXd all(rows, columns);
    for (Eigen::Index i = 0; i < rows; ++i)
        for (Eigen::Index j = 0; j < columns; ++j)
            all(i, j) = 40.0 * std::cos(0.3 * static_cast<double>(i - 2)) *
                            std::cos(0.2 * static_cast<double>(j - 4)) +
                        error(random);
    return all;
}

const TableInfluence::Axes axes{Vec3(0, 1, 0), Vec3(1, 0, 0), Vec3(0, 0, -1), false};

TEST(TableInfluence, ForetellsTheSurfaceOfAFigureChanged) {
    // Second route: the table fitted again with the figure a hair greater, so little that the same
    // smoothing is found.
    const SplineBasis rows(sites(6, 50.0)), columns(sites(9, 40.0));
    Eigen::MatrixXd heights = readings(6, 9);
    const FairTable before = fair_table(rows, columns, heights);
    EXPECT_GT(before.smoothing, 0.0);
    const TableInfluence influence(rows, columns, before, axes);
    const Vec3 place(137.0, 88.0, -3.0);
    Eigen::MatrixXd felt = Eigen::MatrixXd::Zero(1, influence.poles());
    for (const auto& term : influence.terms(place)) felt(0, term.pole) = term.weight;
    const Eigen::MatrixXd per_figure = influence.per_figure(felt);
    ASSERT_EQ(per_figure.cols(), 54);
    const auto height = [&](const FairTable& table) {
        return rows.at(88.0).dot(table.poles * columns.at(137.0));
    };
    constexpr double hair = 1e-4;
    for (const auto& [i, j] : {std::pair{2, 3}, std::pair{1, 4}, std::pair{5, 0}}) {
        heights(i, j) += hair;
        const FairTable after = fair_table(rows, columns, heights);
        ASSERT_EQ(after.smoothing, before.smoothing);
        EXPECT_NEAR((height(after) - height(before)) / hair, per_figure(0, i * 9 + j), 1e-7);
        heights(i, j) -= hair;
    }
    EXPECT_GT(per_figure(0, 2 * 9 + 3), 0.05);
}

TEST(TableInfluence, SlopesAreThoseOfTheWeights) {
    const SplineBasis rows(sites(5, 50.0)), columns(sites(7, 40.0));
    const TableInfluence influence(rows, columns, fair_table(rows, columns, readings(5, 7)), axes);
    const Vec3 place(101.0, 77.0, 0.0);
    constexpr double step = 1e-4;
    const auto weight = [&](const Vec3& at, Eigen::Index pole) {
        double sum = 0.0;
        for (const auto& term : influence.terms(at))
            if (term.pole == pole) sum += term.weight;
        return sum;
    };
    double total = 0.0;
    for (const auto& term : influence.terms(place)) {
        total += term.weight;
        for (const Vec3& way : {Vec3(1, 0, 0), Vec3(0, 1, 0), Vec3(0, 0, 1)})
            EXPECT_NEAR(
                term.slope.dot(way),
                (weight(place + step * way, term.pole) - weight(place - step * way, term.pole)) /
                    (2.0 * step),
                1e-8);
    }
    EXPECT_NEAR(total, 1.0, 1e-12);  // B-splines share out a whole
}

TEST(TableInfluence, MovesAHalfBreadthOutOnBothSides) {
    const SplineBasis rows(sites(5, 50.0)), columns(sites(7, 40.0));
    TableInfluence::Axes half = axes;
    half.out = Vec3(0, 1, 0);
    half.two_sided = true;
    const TableInfluence influence(rows, columns, fair_table(rows, columns, readings(5, 7)), half);
    EXPECT_EQ(influence.out(Vec3(0, 30, 0)), Vec3(0, 1, 0));
    EXPECT_EQ(influence.out(Vec3(0, -30, 0)), Vec3(0, -1, 0));
}

}  // namespace
}  // namespace tearline::hull

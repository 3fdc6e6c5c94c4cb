#include "core/flattening/membrane_energy.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <random>

#include "tests/support/analytic_meshes.h"

namespace tearline::flattening {
namespace {

constexpr std::uint32_t start_value = 42;

Places places_of(const std::vector<Vec2>& points) {
    Places out(2, static_cast<Eigen::Index>(points.size()));
    for (std::size_t i = 0; i < points.size(); ++i)
        out.col(static_cast<Eigen::Index>(i)) = points[i];
    return out;
}

Places shaken(Places places, double by) {
    std::mt19937 random(start_value);
    std::uniform_real_distribution<double> shake(-by, by);
    for (Eigen::Index i = 0; i < places.size(); ++i) places.data()[i] += shake(random);
    return places;
}

/// The map from a triangle's own plane to the table, by solving for it.
Eigen::Matrix2d map_of(const std::array<double, 3>& length, const Vec2& a, const Vec2& b,
                       const Vec2& c) {
    const double x =
        (length[0] * length[0] + length[2] * length[2] - length[1] * length[1]) / (2.0 * length[0]);
    const double y = std::sqrt(length[2] * length[2] - x * x);
    Eigen::Matrix2d rest, now;
    rest << length[0], x, 0.0, y;
    now << b - a, c - a;
    return now * rest.inverse();
}

/// A cap of a sphere and places near its picture, shaken so that every triangle strains its own
/// way.
struct Cap {
    test::PlaneMesh figure = test::disc(80.0, 5);
    surface::SurfaceMesh mesh = test::on_sphere(figure, 120.0);
    Places at = shaken(places_of(figure.place), 2.0);
};

TEST(MembraneEnergy, IsThatOfTheSingularValues) {
    // Second route: the singular values of each triangle's map, by decomposition; of a picture that
    // is turned over the lesser one counts negative.
    for (const bool turned_over : {false, true}) {
        Cap cap;
        if (turned_over) cap.at.row(0) *= -1.0;
        auto energy = MembraneEnergy::of(cap.mesh);
        ASSERT_TRUE(energy);
        double sum = 0.0, area = 0.0;
        const auto stretches = energy->stretches(cap.at);
        for (std::size_t t = 0; t < cap.mesh.triangle.size(); ++t) {
            const auto& v = cap.mesh.triangle[t];
            const auto& l = cap.mesh.edge_length[t];
            const Eigen::Matrix2d f =
                map_of(l, cap.at.col(v[0]), cap.at.col(v[1]), cap.at.col(v[2]));
            const Vec2 s = Eigen::JacobiSVD<Eigen::Matrix2d>(f).singularValues();
            const double half = 0.5 * (l[0] + l[1] + l[2]);
            const double a = std::sqrt(half * (half - l[0]) * (half - l[1]) * (half - l[2]));
            EXPECT_NEAR(stretches[t][0], s[0], 1e-9);
            EXPECT_NEAR(stretches[t][1], f.determinant() > 0.0 ? s[1] : -s[1], 1e-9);
            EXPECT_NEAR(energy->area(t), a, 1e-9);
            const Vec2 strain(stretches[t][0] - 1.0, stretches[t][1] - 1.0);
            sum += a * strain.squaredNorm();
            area += a;
        }
        Places gradient;
        EXPECT_NEAR(energy->linearise(cap.at, gradient), sum, 1e-9 * sum);
        EXPECT_NEAR(energy->area(), area, 1e-9);
    }
}

TEST(MembraneEnergy, HasTheSlopeOfItsDifferences) {
    // Second route: central differences along each coordinate, good to h^2.
    const Cap cap;
    auto energy = MembraneEnergy::of(cap.mesh);
    ASSERT_TRUE(energy);
    Places gradient, unused;
    energy->linearise(cap.at, gradient);
    const double h = 1e-5;
    for (Eigen::Index i = 0; i < cap.at.size(); i += 5) {
        Places up = cap.at, down = cap.at;
        up.data()[i] += h;
        down.data()[i] -= h;
        const double slope =
            (energy->linearise(up, unused) - energy->linearise(down, unused)) / (2.0 * h);
        EXPECT_NEAR(gradient.data()[i], slope, 1e-5 * (1.0 + std::abs(slope))) << i;
    }
}

TEST(MembraneEnergy, BendsAsItsSlopesDoWhereClothIsStretched) {
    // Second route: differences of the gradient. Where the stretches sum to more than 2 in every
    // triangle nothing is cut off, and H d is the derivative itself.
    Cap cap;
    cap.at *= 1.3;
    auto energy = MembraneEnergy::of(cap.mesh);
    ASSERT_TRUE(energy);
    for (const auto& s : energy->stretches(cap.at)) ASSERT_GT(s[0] + s[1], 2.0);
    const Places direction = shaken(Places::Zero(2, cap.at.cols()), 1.0);
    Places gradient, bent, up, down;
    energy->linearise(cap.at, gradient);
    energy->apply_hessian(direction, bent);
    const double h = 1e-6;
    energy->linearise(cap.at + h * direction, up);
    energy->linearise(cap.at - h * direction, down);
    const Places slope = (up - down) / (2.0 * h);
    EXPECT_LT((bent - slope).norm(), 1e-6 * slope.norm());
}

TEST(MembraneEnergy, NeverBendsDownwards) {
    // The part of the Hessian that is cut off would be negative where cloth is pressed together:
    // d H d >= 0 for any d, and H is symmetric, so that a H b = b H a.
    Cap cap;
    cap.at *= 0.7;
    auto energy = MembraneEnergy::of(cap.mesh);
    ASSERT_TRUE(energy);
    Places gradient, ha, hb;
    energy->linearise(cap.at, gradient);
    std::mt19937 random(start_value);
    std::normal_distribution<double> normal;
    for (int k = 0; k < 50; ++k) {
        Places a(2, cap.at.cols()), b(2, cap.at.cols());
        for (Eigen::Index i = 0; i < a.size(); ++i) {
            a.data()[i] = normal(random);
            b.data()[i] = normal(random);
        }
        energy->apply_hessian(a, ha);
        energy->apply_hessian(b, hb);
        EXPECT_GE(a.cwiseProduct(ha).sum(), -1e-9);
        EXPECT_NEAR(a.cwiseProduct(hb).sum(), b.cwiseProduct(ha).sum(),
                    1e-9 * ha.norm() * b.norm());
    }
    // Turning is the direction that would: to second order a turn lengthens what is pressed
    // together.
    Places whole_turn(2, cap.at.cols());
    whole_turn << -cap.at.row(1), cap.at.row(0);
    energy->apply_hessian(whole_turn, ha);
    EXPECT_GE(whole_turn.cwiseProduct(ha).sum(), -1e-9 * whole_turn.squaredNorm());
    // Where nothing is strained a turn of the whole costs nothing.
    const Places plane = places_of(cap.figure.place);
    const auto flat = test::on_cylinder(cap.figure, 1e9);
    auto at_rest = MembraneEnergy::of(flat);
    ASSERT_TRUE(at_rest);
    EXPECT_NEAR(at_rest->linearise(plane, gradient), 0.0, 1e-9);
    Places turn(2, plane.cols());
    turn << -plane.row(1), plane.row(0);
    at_rest->apply_hessian(turn, ha);
    EXPECT_LT(ha.norm(), 1e-6 * turn.norm());
}

TEST(MembraneEnergy, DoesNotHangOnWhereTheTableStands) {
    const Cap cap;
    auto energy = MembraneEnergy::of(cap.mesh);
    ASSERT_TRUE(energy);
    Places gradient, moved_gradient;
    const double here = energy->linearise(cap.at, gradient);
    const Eigen::Matrix2d turn = Eigen::Rotation2Dd(2.3).toRotationMatrix();
    const Places moved = (turn * cap.at).colwise() + Vec2(300, -70);
    EXPECT_NEAR(energy->linearise(moved, moved_gradient), here, 1e-9 * here);
    EXPECT_LT((turn * gradient - moved_gradient).norm(), 1e-8 * gradient.norm());
    // Pushed and turned as a whole nothing pulls: no force and no moment is left over.
    EXPECT_LT(gradient.rowwise().sum().norm(), 1e-9 * gradient.norm());
    double moment = 0.0;
    for (Eigen::Index i = 0; i < gradient.cols(); ++i)
        moment += cross2(cap.at.col(i), gradient.col(i));
    EXPECT_NEAR(moment, 0.0, 1e-8 * gradient.norm());
}

TEST(MembraneEnergy, StiffnessIsTheCotangentsOfTheFacingCorners) {
    // Second route: half the cotangent of the angle facing an edge, negative; rows sum to nothing.
    const Cap cap;
    auto energy = MembraneEnergy::of(cap.mesh);
    ASSERT_TRUE(energy);
    for (std::size_t t = 0; t < cap.mesh.triangle.size(); ++t) {
        const auto& l = cap.mesh.edge_length[t];
        for (std::size_t i = 0; i < 3; ++i) {
            const double a = l[(i + 1) % 3], b = l[(i + 2) % 3], c = l[i];
            const double cosine = (a * a + b * b - c * c) / (2 * a * b);
            const double cotangent = cosine / std::sqrt(1.0 - cosine * cosine);
            EXPECT_NEAR(energy->stiffness(t, i, (i + 1) % 3), -0.5 * cotangent, 1e-9);
            EXPECT_NEAR(energy->stiffness(t, i, 0) + energy->stiffness(t, i, 1) +
                            energy->stiffness(t, i, 2),
                        0.0, 1e-12);
        }
    }
}

TEST(MembraneEnergy, HoldsASliverOpen) {
    // Edges 10, 5 and 5: no area of its own, held at a thousandth of the longest edge.
    surface::SurfaceMesh mesh;
    mesh.triangle = {{0, 1, 2}};
    mesh.edge_length = {{10.0, 5.0, 5.0}};
    const auto energy = MembraneEnergy::of(mesh);
    ASSERT_TRUE(energy);
    EXPECT_NEAR(energy->area(), 0.5 * 10.0 * 0.01, 1e-12);
    // A hundredth too long is rounding, two hundredths are a fold.
    mesh.edge_length = {{10.09, 5.0, 5.0}};
    EXPECT_TRUE(MembraneEnergy::of(mesh));
    mesh.edge_length = {{10.2, 5.0, 5.0}};
    ASSERT_FALSE(MembraneEnergy::of(mesh));
    EXPECT_EQ(MembraneEnergy::of(mesh).error().kind, ErrorKind::no_safe_answer);
    mesh.edge_length = {{10.0, 0.0, 10.0}};
    EXPECT_FALSE(MembraneEnergy::of(mesh));
}

}  // namespace
}  // namespace tearline::flattening

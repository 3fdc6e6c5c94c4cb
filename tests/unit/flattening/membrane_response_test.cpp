#include "core/flattening/membrane_response.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/flattening/flatten_membrane.h"
#include "tests/support/analytic_meshes.h"

namespace tearline::flattening {
namespace {

/// Largest length left of `moved` when its best rigid motion about `flat` is taken off.
double beside_rigid(const std::vector<Vec2>& flat, const Places& moved) {
    const auto n = static_cast<Eigen::Index>(flat.size());
    Vec2 middle = Vec2::Zero(), shift = Vec2::Zero();
    for (Eigen::Index i = 0; i < n; ++i) {
        middle += flat[static_cast<std::size_t>(i)] / static_cast<double>(n);
        shift += moved.col(i) / static_cast<double>(n);
    }
    double turn = 0.0, inertia = 0.0;
    for (Eigen::Index i = 0; i < n; ++i) {
        const Vec2 arm = flat[static_cast<std::size_t>(i)] - middle;
        turn += cross2(arm, moved.col(i));
        inertia += arm.squaredNorm();
    }
    double most = 0.0;
    for (Eigen::Index i = 0; i < n; ++i) {
        const Vec2 arm = flat[static_cast<std::size_t>(i)] - middle;
        most = std::max(most, (moved.col(i) - shift - turn / inertia * turned_left(arm)).norm());
    }
    return most;
}

TEST(MembraneResponse, GrowsAsItsEdgesGrow) {
    // Every edge 0.1 % longer: flat it is the same figure 0.1 % larger.
    const auto mesh = test::on_sphere(test::disc(100.0, 12), 300.0);
    const auto flat = flatten_membrane(mesh);
    ASSERT_TRUE(flat) << flat.error().message();
    auto response = MembraneResponse::of(mesh, flat->flat);
    ASSERT_TRUE(response) << response.error().message();
    auto larger = mesh;
    for (auto& edges : larger.edge_length)
        for (double& length : edges) length *= 1.001;
    auto moved = response->moved(larger);
    ASSERT_TRUE(moved) << moved.error().message();
    for (std::size_t i = 0; i < flat->flat.size(); ++i)
        moved->col(static_cast<Eigen::Index>(i)) -= 0.001 * flat->flat[i];
    EXPECT_LT(beside_rigid(flat->flat, *moved), 0.001);
}

TEST(MembraneResponse, FollowsAnotherRadiusAsLayingItFlatAgainDoes) {
    // Second route: the cap of a slightly smaller sphere laid flat anew; edges move by 1.1 mm or
    // so.
    const auto plane = test::disc(150.0, 14);
    const auto before = test::on_sphere(plane, 300.0), after = test::on_sphere(plane, 290.0);
    const auto flat = flatten_membrane(before);
    ASSERT_TRUE(flat) << flat.error().message();
    const auto again = flatten_membrane(after, flat->flat);
    ASSERT_TRUE(again) << again.error().message();
    auto response = MembraneResponse::of(before, flat->flat);
    ASSERT_TRUE(response) << response.error().message();
    auto moved = response->moved(after);
    ASSERT_TRUE(moved) << moved.error().message();
    Places anew(2, moved->cols());
    for (std::size_t i = 0; i < flat->flat.size(); ++i)
        anew.col(static_cast<Eigen::Index>(i)) = again->flat[i] - flat->flat[i];
    const double whole = beside_rigid(flat->flat, anew);
    EXPECT_GT(whole, 0.1);
    EXPECT_LT(beside_rigid(flat->flat, *moved - anew), 0.05 * whole);
}

TEST(MembraneResponse, StaysWhereNothingChanges) {
    const auto mesh = test::on_sphere(test::disc(100.0, 8), 300.0);
    const auto flat = flatten_membrane(mesh);
    ASSERT_TRUE(flat);
    auto response = MembraneResponse::of(mesh, flat->flat);
    ASSERT_TRUE(response);
    const auto moved = response->moved(mesh);
    ASSERT_TRUE(moved);
    EXPECT_EQ(moved->cwiseAbs().maxCoeff(), 0.0);
}

}  // namespace
}  // namespace tearline::flattening

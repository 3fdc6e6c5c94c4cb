#pragma once
#include <vector>

#include "core/ground/ground.h"
#include "core/ground/place_points.h"
#include "core/hull/table_influence.h"
#include "core/rates/edge_rates.h"
#include "core/rates/moved_surface.h"
#include "tests/support/analytic_patch.h"

/// A sloping plane told by a table of heights, and a plan on it: ways are straight, so that what a
/// pole does to them stands in closed form.
namespace tearline::rates {

struct SlopingTable {
    static constexpr double by_x = 0.3, by_y = -0.2;  ///< [-]
    std::vector<double> x_sites{0, 60, 130, 200, 280, 340, 420}, y_sites{0, 50, 110, 180, 240, 300};
    hull::SplineBasis rows{y_sites}, columns{x_sites};
    hull::FairTable fair = hull::fair_table(rows, columns, heights());
    hull::TableInfluence influence{
        rows, columns, fair, {Vec3(0, 1, 0), Vec3(1, 0, 0), Vec3(0, 0, 1), false}};

    static double height(double x, double y) { return 20.0 + by_x * x + by_y * y; }
    [[nodiscard]] Eigen::MatrixXd heights() const {
        Eigen::MatrixXd all(static_cast<Eigen::Index>(y_sites.size()),
                            static_cast<Eigen::Index>(x_sites.size()));
        for (Eigen::Index i = 0; i < all.rows(); ++i)
            for (Eigen::Index j = 0; j < all.cols(); ++j)
                all(i, j) = height(x_sites[static_cast<std::size_t>(j)],
                                   y_sites[static_cast<std::size_t>(i)]);
        return all;
    }
};

/// The plane about (200, 150) of the table; `over` places count from there.
struct SlopingPlan {
    SlopingTable table;
    job::Job asked;
    ground::PlacedJob placed;
    hull::Hull hull;
    ground::Ground ground;

    SlopingPlan() {
        // An exact chart: along the plane's own steepest and level lines.
        const Vec3 n = normal();
        const Vec3 x = Vec3(1, 0, SlopingTable::by_x).normalized(), y = n.cross(x);
        const Vec3 middle = over({0, 0});
        const auto map = [=](const Vec2& p, int) {
            return surface::SurfaceSample{middle + p.x() * x + p.y() * y, n, 0.0, 0.0};
        };
        ground.patch = test::analytic_patch(map, test::within_disc(140), 140, 8);
        placed.about_marks = ground.patch;
    }
    [[nodiscard]] static Vec3 normal() {
        return Vec3(-SlopingTable::by_x, -SlopingTable::by_y, 1.0).normalized();
    }
    [[nodiscard]] static Vec3 over(const Vec2& p) {
        const double x = p.x() + 200.0, y = p.y() + 150.0;
        return {x, y, SlopingTable::height(x, y)};
    }
    [[nodiscard]] static BasePlace place(const Vec2& p) { return {over(p), normal()}; }
    /// How much a pole raises the surface there, by the spline itself.
    [[nodiscard]] double weight(Eigen::Index pole, const Vec2& p) const {
        return table.rows.at(p.y() + 150.0)[pole / table.columns.size()] *
               table.columns.at(p.x() + 200.0)[pole % table.columns.size()];
    }
    [[nodiscard]] PlannedGround on() const { return {asked, placed, hull, ground}; }
};

}  // namespace tearline::rates

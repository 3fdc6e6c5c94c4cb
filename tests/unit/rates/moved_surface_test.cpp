#include "core/rates/moved_surface.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

#include "core/rates/outline_shift.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/loops.h"

namespace tearline::rates {
namespace {

/// A table of heights over x and y, its surface z = f(x, y): a shallow saddle with a slope.
struct Table {
    std::vector<double> x_sites{0, 60, 130, 200, 280, 340, 420}, y_sites{0, 50, 110, 180, 240, 300};
    hull::SplineBasis rows{y_sites}, columns{x_sites};
    hull::FairTable fair = hull::fair_table(rows, columns, heights());
    hull::TableInfluence influence{
        rows, columns, fair, {Vec3(0, 1, 0), Vec3(1, 0, 0), Vec3(0, 0, 1), false}};

    static double f(double x, double y) {
        return 20.0 + 0.1 * x - 0.05 * y + 4e-4 * x * x - 3e-4 * y * y + 2e-4 * x * y;
    }
    static Vec3 normal_of(double fx, double fy) { return Vec3(-fx, -fy, 1.0).normalized(); }
    static BasePlace place(double x, double y) {
        const double fx = 0.1 + 8e-4 * x + 2e-4 * y, fy = -0.05 - 6e-4 * y + 2e-4 * x;
        return {{x, y, f(x, y)}, normal_of(fx, fy)};
    }
    [[nodiscard]] Eigen::MatrixXd heights() const {
        Eigen::MatrixXd all(static_cast<Eigen::Index>(y_sites.size()),
                            static_cast<Eigen::Index>(x_sites.size()));
        for (Eigen::Index i = 0; i < all.rows(); ++i)
            for (Eigen::Index j = 0; j < all.cols(); ++j)
                all(i, j) =
                    f(x_sites[static_cast<std::size_t>(j)], y_sites[static_cast<std::size_t>(i)]);
        return all;
    }
    /// How much pole p raises the surface at (x, y) for each millimetre, by the spline itself.
    [[nodiscard]] double weight(Eigen::Index p, double x, double y) const {
        return rows.at(y)[p / columns.size()] * columns.at(x)[p % columns.size()];
    }
};

TEST(MovedSurface, RisesBesideEachPoleByItsWeight) {
    // Second route: the tensor spline's own value; the base surface is the measured one.
    const Table table;
    const MovedSurface surface(table.influence, 0.0);
    ASSERT_EQ(surface.poles(), 42);
    const BasePlace at = Table::place(150, 120);
    const Eigen::Matrix3Xd move = surface.move(at);
    for (Eigen::Index p = 0; p < surface.poles(); ++p)
        EXPECT_LT((move.col(p) - Vec3(0, 0, table.weight(p, 150, 120))).norm(), 1e-12) << p;
    EXPECT_LT((move.rowwise().sum() - Vec3(0, 0, 1)).norm(), 1e-12) << "all poles lift it as one";
}

TEST(MovedSurface, TurnsItsNormalAsDifferencesDo) {
    // Second route: the normal of z = f + h w under a pole raised by a hair h, from the weight's
    // own differences; and of a place 12 mm above the surface, which swings with the normal.
    const Table table;
    const MovedSurface surface(table.influence, 0.0);
    const double x = 205, y = 140, h = 1e-5, step = 1e-4;
    const BasePlace at = Table::place(x, y);
    const double fx = -at.normal.x() / at.normal.z(), fy = -at.normal.y() / at.normal.z();
    int seen = 0;
    for (const auto& move : surface.moves(at, 12.0)) {
        const auto w = [&](double dx, double dy) {
            return table.weight(move.pole, x + dx, y + dy);
        };
        const double wx = (w(step, 0) - w(-step, 0)) / (2 * step);
        const double wy = (w(0, step) - w(0, -step)) / (2 * step);
        const Vec3 turn = (Table::normal_of(fx + h * wx, fy + h * wy) -
                           Table::normal_of(fx - h * wx, fy - h * wy)) /
                          (2 * h);
        EXPECT_LT((move.turn - turn).norm(), 1e-8) << move.pole;
        EXPECT_LT((move.by - (Vec3(0, 0, w(0, 0)) + 12.0 * turn)).norm(), 1e-7) << move.pole;
        seen += turn.norm() > 1e-4 ? 1 : 0;
    }
    EXPECT_GT(seen, 8);
}

TEST(MovedSurface, UnderASkinIsFeltWhereItWasMeasured) {
    // The base surface lies 30 mm on the laying side of the measured one: the weights are those of
    // the foot 30 mm below along the normal, and the place swings with the normal there.
    const Table table;
    const MovedSurface measured(table.influence, 0.0), above(table.influence, 30.0);
    const BasePlace foot = Table::place(170, 90);
    const BasePlace place{foot.at + 30.0 * foot.normal, foot.normal};
    const auto low = measured.moves(foot, 30.0), high = above.moves(place, 0.0);
    ASSERT_EQ(low.size(), high.size());
    for (std::size_t i = 0; i < low.size(); ++i) {
        EXPECT_EQ(low[i].pole, high[i].pole);
        EXPECT_LT((low[i].by - high[i].by).norm(), 1e-12);
        EXPECT_LT((low[i].turn - high[i].turn).norm(), 1e-12);
    }
}

TEST(MovedSurface, StretchesAWayByWhatItsLengthChanges) {
    // Second route: the length of the way's own chords with one pole raised by a hair.
    const Table table;
    const MovedSurface surface(table.influence, 0.0);
    std::vector<BasePlace> way;
    for (int i = 0; i <= 12; ++i)
        way.push_back(Table::place(60 + 22.0 * i, 40 + 15.0 * i + 30 * std::sin(0.5 * i)));
    const Eigen::RowVectorXd longer = surface.stretch(way);
    const auto length = [&](Eigen::Index pole, double by) {
        double sum = 0.0;
        Vec3 before = Vec3::Zero();
        for (std::size_t i = 0; i < way.size(); ++i) {
            const Vec3& p = way[i].at;
            const Vec3 now = p + Vec3(0, 0, by * table.weight(pole, p.x(), p.y()));
            if (i > 0) sum += (now - before).norm();
            before = now;
        }
        return sum;
    };
    double most = 0.0;
    for (Eigen::Index p = 0; p < surface.poles(); ++p) {
        EXPECT_NEAR(longer[p], (length(p, 1e-4) - length(p, -1e-4)) / 2e-4, 1e-7) << p;
        most = std::max(most, std::abs(longer[p]));
    }
    EXPECT_GT(most, 0.01);
    EXPECT_NEAR(longer.sum(), 0.0, 1e-12) << "lifted as a whole it stretches nothing";
    EXPECT_EQ(surface.stretch(std::span(way).first(1)).norm(), 0.0);
}

TEST(MovedSurface, SlidesInItsTangentPlane) {
    const Table table;
    const MovedSurface surface(table.influence, 0.0);
    const BasePlace at = Table::place(250, 60);
    const Eigen::Matrix3Xd move = surface.move(at), slide = surface.slide(at);
    EXPECT_LT((at.normal.transpose() * slide).norm(), 1e-12);
    for (Eigen::Index p = 0; p < surface.poles(); ++p) {
        // What is left out is along the normal.
        const Vec3 out = move.col(p) - slide.col(p);
        EXPECT_LT(out.cross(at.normal).norm(), 1e-12);
    }
    EXPECT_GT(slide.norm(), 0.05) << "the surface slopes here";
}

TEST(PlacesBetween, LieOnTheSurfaceNoFartherApartThanTwentyMillimetres) {
    // Closed form: along a radius of the polar chart the places lie evenly on a great circle.
    const double R = 150.0;
    const auto patch = test::analytic_patch(test::sphere_map(R), test::within_disc(140), 140, 6);
    const Vec2 e(0.6, 0.8);
    const auto places = places_between(patch, 10 * e, 120 * e);
    ASSERT_EQ(places.size(), 7u);  // 110 mm in six steps
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double a = (10.0 + 110.0 * static_cast<double>(i) / 6) / R;
        const Vec3 out(std::sin(a) * e.x(), std::sin(a) * e.y(), std::cos(a));
        EXPECT_LT((places[i].normal - out).norm(), 1e-4);
        EXPECT_LT((places[i].at - R * (out - Vec3(0, 0, 1))).norm(), 0.02);
    }
    // One place where there is no way to go.
    EXPECT_EQ(places_between(patch, e, e).size(), 1u);
}

/// A plan on a bulging cylinder, its surface known by a table; the damage as the test says.
struct Planned {
    Table table;
    job::Job asked;
    ground::PlacedJob placed;
    hull::Hull hull;
    ground::Ground ground;

    explicit Planned(const Loop2& outline) {
        ground.patch = test::analytic_patch(
            [](const Vec2& p, int) {
                const auto at = Table::place(p.x() + 200, p.y() + 150);
                return surface::SurfaceSample{at.at, at.normal, 0.0, 0.0};
            },
            test::within_disc(110), 110, 8);
        for (const Vec2& p : outline) {
            damage::OutlinePoint point;
            point.at = *ground.patch.locate(p);
            point.position = ground.patch.sample(point.at).position;
            ground.outline.points.push_back(point);
            ground.outline.chart.push_back(p);
        }
    }
    [[nodiscard]] PlannedGround on() const { return {asked, placed, hull, ground}; }
    /// A direction of the tangent plane over a chart direction.
    [[nodiscard]] Vec3 over(const Vec2& chart, const Vec2& way) const {
        const auto at = [&](const Vec2& p) {
            return ground.patch.sample(*ground.patch.locate(p)).position;
        };
        return (at(chart + 0.01 * way) - at(chart)).normalized();
    }
};

TEST(OutlineShift, OfADiscKeepsItsDistanceFromTheCentre) {
    // By definition: a place at a fixed distance beyond the edge lies at a fixed distance from the
    // centre, so that it moves against the stretch of the way from there; lifted as a whole the
    // surface moves no edge over itself.
    Planned plan(test::circle(40, {0, 0}, 72));
    plan.placed.job.damage.centre =
        plan.ground.patch.sample(*plan.ground.patch.locate({0, 0})).position;
    const MovedSurface surface(plan.table.influence, 0.0);
    const OutlineShift shift(plan.on(), surface);
    for (const double a : {0.3, 1.9, 4.0}) {
        const Vec2 e(std::cos(a), std::sin(a));
        const Eigen::RowVectorXd moved = shift.outward(70 * e, plan.over(70 * e, e));
        const Eigen::RowVectorXd way =
            surface.stretch(places_between(plan.ground.patch, Vec2(0, 0), 70 * e));
        EXPECT_LT((moved + way).norm(), 0.03 * way.norm()) << a;
        EXPECT_NEAR(moved.sum(), 0.0, 1e-9);
        EXPECT_GT(moved.norm(), 1e-3);
    }
}

TEST(OutlineShift, OfPointsGivenInSpaceStaysWhereTheyAre) {
    // Closed form: when the whole surface is lifted along z, points that stay in space slide over
    // it by -z's part in its tangent plane, and so does the edge between two of them.
    Planned plan(test::circle(40, {0, 0}, 72));
    for (const Vec2& p : test::circle(40, {0, 0}, 6))
        plan.placed.job.damage.outline.push_back(
            plan.ground.patch.sample(*plan.ground.patch.locate(p)).position);
    plan.placed.job.damage.join = job::Join::straight;
    const MovedSurface surface(plan.table.influence, 0.0);
    const OutlineShift shift(plan.on(), surface);
    for (const double a : {0.0, 0.5, 2.2, 5.0}) {
        const Vec2 e(std::cos(a), std::sin(a));
        const Vec3 direction = plan.over(40 * e, e);
        const double lifted = shift.outward(40.5 * e, direction).sum();
        EXPECT_NEAR(lifted, -direction.z(), 0.02) << a;
    }
}

TEST(OutlineShift, OfASmoothCurveFollowsItsPoints) {
    // The same by the smooth curve through the points: rigid lifting moves spline and points alike.
    Planned plan(test::circle(40, {0, 0}, 72));
    for (const Vec2& p : test::circle(40, {0, 0}, 8))
        plan.placed.job.damage.outline.push_back(
            plan.ground.patch.sample(*plan.ground.patch.locate(p)).position);
    plan.placed.job.damage.join = job::Join::smooth;
    const MovedSurface surface(plan.table.influence, 0.0);
    const OutlineShift shift(plan.on(), surface);
    for (const double a : {0.0, 0.5, 2.2, 5.0}) {
        const Vec2 e(std::cos(a), std::sin(a));
        const Vec3 direction = plan.over(40 * e, e);
        EXPECT_NEAR(shift.outward(40.5 * e, direction).sum(), -direction.z(), 0.02) << a;
    }
}

}  // namespace
}  // namespace tearline::rates

#include "core/ground/dish_points.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "tests/support/analytic_patch.h"
#include "tests/support/loops.h"
#include "tests/support/scanned_shapes.h"

namespace tearline::ground {
namespace {

constexpr double ground_radius = 60.0;

std::vector<Region2> disc() {
    return {{test::circle(ground_radius, {0, 0}, 180), {}}};
}

double depth_at(const Vec2& p) {
    return std::max(0.0, 5.0 * (1.0 - p.squaredNorm() / (ground_radius * ground_radius)));
}

/// A dish in a surface, its scan as the hull has it, and marks round it.
struct Scanned {
    test::AnalyticMap map;
    Ground ground;
    hull::DishPoints scan;
    job::Job job;

    explicit Scanned(const test::AnalyticMap& surface) : map(surface) {
        ground.patch = test::analytic_patch(map, test::within_disc(160), 160, 10);
        ground.frame.chart = Vec2(0, 0);
        ground.frame.middle = map({0, 0}, 1).position;
        scan.spacing = 3.0;
        scan.noise = 0.1;
        for (double x = -130; x <= 130; x += scan.spacing)
            for (double y = -130; y <= 130; y += scan.spacing) scan.points.push_back(dish({x, y}));
    }
    [[nodiscard]] Vec3 dish(const Vec2& p) const {
        const auto at = map(p, 1);
        return at.position - depth_at(p) * at.normal;
    }
    void marked(const std::vector<Vec2>& places) {
        for (std::size_t i = 0; i < places.size(); ++i) {
            job::Mark mark;
            mark.name = std::string(1, static_cast<char>('A' + i));
            mark.at = map(places[i], 1).position;
            job.marks.push_back(mark);
            scan.marks[mark.name] = *mark.at;
        }
    }
    /// The scan in coordinates of its own.
    void moved(const Eigen::Isometry3d& motion) {
        for (Vec3& p : scan.points) p = motion * p;
        for (auto& [name, at] : scan.marks) at = motion * at;
    }
    /// The most that a depth is off what was ground, all over the ground area and beside it; not at
    /// its very edge, where the mean of some points cuts the corner of wall and skin.
    [[nodiscard]] double worst(double spacings = 1.0) const {
        const auto laid = lay_points(scan, job, ground, disc(), spacings);
        if (!laid) {
            ADD_FAILURE() << laid.error().message();
            return 1e9;
        }
        double most = 0.0;
        int seen = 0;
        for (const scan::FieldPoint& point : laid->depths)
            if (point.uv.norm() < 110.0 && std::abs(point.uv.norm() - ground_radius) > 4.0) {
                most = std::max(most, std::abs(point.height - depth_at(point.uv)));
                ++seen;
            }
        EXPECT_GT(seen, 300);
        return most;
    }
};

const std::vector<Vec2> three{{-110, -60}, {115, -40}, {10, 118}};

Eigen::Isometry3d some_motion() {
    Eigen::Isometry3d motion = Eigen::Isometry3d::Identity();
    motion.linear() = Eigen::AngleAxisd(1.1, Vec3(1, -2, 0.5).normalized()).toRotationMatrix();
    motion.translation() = Vec3(3000, -200, 47);
    return motion;
}

TEST(LayPoints, OfTheHullsOwnCoordinatesAreDepthsBelowTheOldSurface) {
    // Closed form: the paraboloid that was ground, along the normals of a plane and of a sphere.
    EXPECT_LT(Scanned(test::plane_map).worst(), 0.01);
    EXPECT_LT(Scanned(test::sphere_map(700.0)).worst(), 0.03);
}

TEST(LayPoints, OfItsOwnCoordinatesAreLaidOnTheHullByTheirMarks) {
    Scanned scanned(test::sphere_map(700.0));
    scanned.marked(three);
    scanned.moved(some_motion());
    EXPECT_LT(scanned.worst(), 0.05);
}

TEST(LayPoints, AreLaidBySoundSkinWhereMarksWerePickedByEye) {
    // Each mark is off by 1.5 mm, up and down: by them alone the dish would lie tilted. The skin
    // beside the ground area brings it back; sideways it stays as picked, which moves a depth by
    // the wall's slope at most, 0.17.
    Scanned scanned(test::sphere_map(700.0));
    scanned.marked(three);
    scanned.scan.marks["A"] += Vec3(0, 0, 1.5);
    scanned.scan.marks["B"] -= Vec3(0, 0, 1.5);
    scanned.moved(some_motion());
    EXPECT_LT(scanned.worst(), 0.25);
    const auto laid = lay_points(scanned.scan, scanned.job, scanned.ground, disc());
    ASSERT_TRUE(laid);
    ASSERT_EQ(laid->warnings.size(), 1u);
    const auto* told = std::get_if<warn::DishScanLaid>(&laid->warnings[0].cause);
    ASSERT_TRUE(told);
    EXPECT_LT(told->off, 0.1) << "of sound skin";
    EXPECT_EQ(told->noise, 0.1);
}

TEST(LayPoints, NoiseIsWhatItsOwnSkinShows) {
    // By construction: 0.4 mm over 6 mm, and a hull that is 1 mm off in long waves, which is no
    // noise of the scan. What a fair field sees of noise is its density, 2 pi L^2 s^2.
    Scanned scanned(test::plane_map);
    scanned.marked(three);
    scanned.scan.correlation = 4.0;
    const scanned::Waves noise(5, 0.4, 6.0, 200);
    for (Vec3& p : scanned.scan.points) p.z() += noise.at({p.x(), p.y()}) + std::sin(p.x() / 80.0);
    const auto laid = lay_points(scanned.scan, scanned.job, scanned.ground, disc());
    ASSERT_TRUE(laid);
    EXPECT_NEAR(laid->noise.spread, 0.4, 0.1);
    const double density = 2.0 * std::numbers::pi * 36.0 * 0.16;
    EXPECT_NEAR(laid->noise.density() / density, 1.0, 0.4);
    // Of the hull's own scan it is known already.
    scanned.scan.marks.clear();
    const auto own = lay_points(scanned.scan, scanned.job, scanned.ground, disc());
    ASSERT_TRUE(own);
    EXPECT_EQ(own->noise.spread, 0.1);
}

TEST(LayPoints, RefusesMarksThatDoNotFitEachOther) {
    // By hand: one of three marks 30 mm along its line: best laid, one is 6 mm off and more.
    Scanned scanned(test::plane_map);
    scanned.marked(three);
    scanned.scan.marks["A"] += Vec3(-30, 0, 0);
    const auto refused = lay_points(scanned.scan, scanned.job, scanned.ground, disc());
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "damage.scan.marks");
    EXPECT_NE(refused.error().what.find("mm off: check the marks"), std::string::npos);
}

TEST(LayPoints, ATurnedOverScanIsNoMirrorImage) {
    // Marks of a scan that was mirrored: no turn brings all three and a fourth off their plane on.
    Scanned scanned(test::plane_map);
    scanned.marked({{-110, -60}, {115, -40}, {10, 118}, {40, 20}});
    scanned.job.marks[3].at->z() -= 50.0;
    scanned.scan.marks["D"].z() -= 50.0;
    for (auto& [name, at] : scanned.scan.marks) at.x() = -at.x();
    for (Vec3& p : scanned.scan.points) p.x() = -p.x();
    EXPECT_FALSE(lay_points(scanned.scan, scanned.job, scanned.ground, disc()));
}

TEST(LayPoints, RefusesAScanThatShowsNoSoundSkin) {
    Scanned scanned(test::plane_map);
    scanned.marked(three);
    std::erase_if(scanned.scan.points,
                  [](const Vec3& p) { return p.head<2>().norm() > ground_radius + 9.0; });
    const auto refused = lay_points(scanned.scan, scanned.job, scanned.ground, disc());
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "damage.scan.model");
    EXPECT_NE(refused.error().what.find("only 0 places of sound skin"), std::string::npos)
        << refused.error().what;
}

TEST(LayPoints, TakePointsOfASmallCubeForOneThatStandsForItsSquare) {
    // By hand: cubes of 4 and of 2 spacings; a quarter as many, each for four times the area.
    const Scanned scanned(test::plane_map);
    const auto laid = [&](double spacings) {
        return lay_points(scanned.scan, scanned.job, scanned.ground, disc(), spacings)->depths;
    };
    const auto fine = laid(2.0), coarse = laid(4.0);
    EXPECT_NEAR(fine.front().weight, 36.0, 1e-9);
    EXPECT_NEAR(coarse.front().weight, 144.0, 1e-9);
    const double ratio = static_cast<double>(fine.size()) / static_cast<double>(coarse.size());
    EXPECT_NEAR(ratio, 4.0, 1.0);
}

TEST(LayPoints, PassOverWhatLiesDeeperThanAnyDish) {
    Scanned scanned(test::plane_map);
    const auto count = [&] {
        return lay_points(scanned.scan, scanned.job, scanned.ground, disc(), 1.0)->depths.size();
    };
    const std::size_t before = count();
    scanned.scan.points.emplace_back(1.5, 1.5, -61.0);
    EXPECT_EQ(count(), before) << "the bench behind the hole";
    scanned.scan.points.emplace_back(1.5, 1.5, -59.0);
    EXPECT_EQ(count(), before + 1);
}

}  // namespace
}  // namespace tearline::ground

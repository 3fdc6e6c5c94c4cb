#include "core/rates/sounded_shift.h"

#include <gtest/gtest.h>

#include <numbers>

#include "core/rates/edge_rates.h"
#include "tests/support/loops.h"
#include "tests/unit/rates/sloping_table.h"

namespace tearline::rates {
namespace {

/// A dish sounded at places of the chart, inside a disc of ground about the middle.
struct Sounded : SlopingPlan {
    static constexpr double radius = 60.0;
    std::vector<Vec2> places{{0, 0}, {25, 0}, {-20, 15}, {5, -30}, {-10, 35}, {30, 25}, {-35, -15}};

    Sounded() {
        const Region2 area{test::circle(radius, {0, 0}, 90), {}};
        std::vector<dish::ChartSounding> depths;
        for (const Vec2& p : places) {
            depths.push_back({p, depth(p), "sounding"});
            job::Sounding sounding;
            sounding.depth = depth(p);
            sounding.at = ground.patch.sample(*ground.patch.locate(p)).position;
            placed.job.damage.soundings.push_back(sounding);
        }
        auto through = dish::SoundedDish::through({area}, depths);
        EXPECT_TRUE(through) << through.error().message();
        dish = std::make_unique<dish::SoundedDish>(std::move(*through));
        for (const Vec2& p : area.outer) {
            damage::OutlinePoint point;
            point.at = *ground.patch.locate(p);
            point.position = ground.patch.sample(point.at).position;
            ground.outline.points.push_back(point);
            ground.outline.chart.push_back(p);
            placed.job.damage.outline.push_back(point.position);
        }
        placed.job.damage.join = job::Join::straight;
        placed.about_marks.reset();
    }
    /// Deepest at the middle, zero on the edge.
    static double depth(const Vec2& p) { return 6.0 * (1.0 - p.squaredNorm() / (radius * radius)); }

    std::unique_ptr<dish::SoundedDish> dish;
};

TEST(SoundedShift, OfSoundingsInSpaceIsTheDishSlidAsAWhole) {
    // Closed form: lifted as a whole (all poles by 1) the plane slides under soundings and outline
    // that stay in space by s, the part of -z in it; the dish over it moves by s as one, and the
    // level through a place towards where it is shallower by -s . grad d / |grad d|. The gradient
    // by differences of the depth itself.
    const Sounded plan;
    const MovedSurface surface(plan.table.influence, 0.0);
    const OutlineShift outline(plan.on(), surface);
    const PlannedGround on = plan.on();
    const SoundedShift shift(on, *plan.dish, surface, outline);
    const Vec3 n = SlopingPlan::normal(), slide = -(Vec3(0, 0, 1) - n.z() * n);
    const auto in_chart = [&](const Vec3& way) {
        const auto at = [&](const Vec2& p) {
            return plan.ground.patch.sample(*plan.ground.patch.locate(p)).position;
        };
        return Vec2(way.dot(at({1, 0}) - at({0, 0})), way.dot(at({0, 1}) - at({0, 0})));
    };
    const Vec2 s = in_chart(slide);
    EXPECT_GT(s.norm(), 0.3);
    int told = 0;
    for (const Vec2& p : plan.places) {
        constexpr double h = 1e-3;
        const auto d = [&](double dx, double dy) { return plan.dish->depth(p + Vec2(dx, dy)); };
        const Vec2 gradient((d(h, 0) - d(-h, 0)) / (2 * h), (d(0, h) - d(0, -h)) / (2 * h));
        if (gradient.norm() < 0.05) continue;  // on the floor a level is no line
        ++told;
        EXPECT_NEAR(shift.outward(p).sum(), -s.dot(gradient) / gradient.norm(), 0.02)
            << p.transpose();
    }
    EXPECT_GE(told, 4);
}

TEST(SoundedShift, CountsOnlyTheSoundingsOfItsOwnStage) {
    // After ply 2 others were taken: those of the dish before it move nothing.
    Sounded plan;
    for (job::Sounding& sounding : plan.placed.job.damage.soundings) sounding.after = 2;
    const MovedSurface surface(plan.table.influence, 0.0);
    const OutlineShift outline(plan.on(), surface);
    const PlannedGround on = plan.on();
    const Vec2 at(25, 0);
    const double none = SoundedShift(on, *plan.dish, surface, outline).outward(at).norm();
    plan.placed.job.after_ply = 2;
    const double all = SoundedShift(on, *plan.dish, surface, outline).outward(at).norm();
    EXPECT_GT(std::abs(all - none), 0.05 * all);
}

TEST(EdgeRates, AreOfATableAlone) {
    Sounded plan;
    templates::LaidPly ply;
    EXPECT_FALSE(edge_rates(plan.on(), ply)) << "a model";
    plan.hull.by_hand = hull::HandMeasured{};
    EXPECT_FALSE(edge_rates(plan.on(), ply)) << "battens";
}

}  // namespace
}  // namespace tearline::rates

#include "core/boat/places_that_meet.h"

#include <gtest/gtest.h>

#include "core/boat/tolerances.h"

namespace tearline::boat {
namespace {

/// A square of the plane z, its lower left corner at x, 0.
struct Square {
    double x = 0.0, side = 0.0, z = 0.0;

    [[nodiscard]] Region3 edge() const {
        Region3 region;
        // A point each millimetre, as edges of plans have them.
        for (int i = 0; i < static_cast<int>(side); ++i) region.outer.emplace_back(x + i, 0, z);
        for (int i = 0; i < static_cast<int>(side); ++i) region.outer.emplace_back(x + side, i, z);
        for (int i = 0; i < static_cast<int>(side); ++i)
            region.outer.emplace_back(x + side - i, side, z);
        for (int i = 0; i < static_cast<int>(side); ++i) region.outer.emplace_back(x, side - i, z);
        return region;
    }
    [[nodiscard]] plan::DishView view() const {
        return {{Vec3(x, 0, z), Vec3(x + side, 0, z), Vec3(x + side, side, z), Vec3(x, side, z)},
                {0, 0, 0, 0},
                {{0, 1, 2}, {0, 2, 3}}};
    }
};

Repair place(const std::string& name, const Square& ground, const Square& footprint,
             job::Side side = job::Side::outside) {
    Plan plan;
    plan.job.damage.side = side;
    plan.job.hull.skin = 10.0;
    plan.place.dish_view = ground.view();
    plan.place.scarf = {ground.edge()};
    plan.place.footprint_view = footprint.view();
    plan.place.footprint = {footprint.edge()};
    Repair out;
    out.name = name;
    out.plan = std::move(plan);
    return out;
}

/// Two places of 100 mm with so much between their ground, and covers 20 mm wider all round.
std::vector<Repair> apart(double gap) {
    const auto at = [](const std::string& name, double x) {
        return place(name, {x, 100, 0}, {x - 20, 140, 0});
    };
    return {at("a", 0), at("b", 100 + gap)};
}

TEST(PlacesThatMeet, GroundThatMeetsIsRefusedWhateverTheJobSays) {
    for (const double gap : {-30.0, 0.5 * tolerance::places_meet})
        for (const bool allowed : {false, true}) {
            std::vector<Repair> repairs = apart(gap);
            EXPECT_TRUE(refuse_overlaps(repairs, allowed).empty());
            for (const Repair& repair : repairs) {
                EXPECT_FALSE(repair.plan) << gap;
                EXPECT_NE(repair.refused.find("ground of a and b overlaps"), std::string::npos);
            }
        }
}

TEST(PlacesThatMeet, CoversThatMeetAreRefusedUnlessTheJobAllowsIt) {
    std::vector<Repair> refused = apart(30.0), allowed = apart(30.0);
    EXPECT_TRUE(refuse_overlaps(refused, false).empty());
    EXPECT_FALSE(refused[0].plan || refused[1].plan);
    EXPECT_NE(refused[0].refused.find("allow_overlap"), std::string::npos);
    const auto told = refuse_overlaps(allowed, true);
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told[0], (std::pair<std::size_t, std::size_t>(0, 1)));
    EXPECT_TRUE(allowed[0].plan && allowed[1].plan);
}

TEST(PlacesThatMeet, ApartByMoreThanTheirCoversNothingIsSaid) {
    std::vector<Repair> repairs = apart(40.0 + 2.0 * tolerance::places_meet);
    EXPECT_TRUE(refuse_overlaps(repairs, false).empty());
    EXPECT_TRUE(repairs[0].plan && repairs[1].plan);
}

TEST(PlacesThatMeet, OnePlaceInsideAnotherMeetsItThoughNoEdgesCross) {
    std::vector<Repair> repairs{place("a", {0, 100, 0}, {0, 100, 0}),
                                place("b", {40, 10, 0}, {40, 10, 0})};
    EXPECT_TRUE(refuse_overlaps(repairs, true).empty());
    EXPECT_FALSE(repairs[0].plan || repairs[1].plan);
}

TEST(PlacesThatMeet, OnOppositeFacesTheyMeetThroughTheSkin) {
    // The skin is 10 mm thick: one right behind the other lies 10 mm away, on another deck 200.
    for (const double z : {10.0, 200.0}) {
        std::vector<Repair> repairs{place("a", {0, 100, 0}, {0, 100, 0}),
                                    place("b", {0, 100, z}, {0, 100, z}, job::Side::inside)};
        EXPECT_TRUE(refuse_overlaps(repairs, true).empty());
        EXPECT_EQ(repairs[0].plan.has_value(), z > 100.0);
        EXPECT_EQ(repairs[1].refused.find("opposite faces") != std::string::npos, z < 100.0);
    }
}

TEST(PlacesThatMeet, APlaceThatIsRefusedAlreadyIsInNobodysWay) {
    std::vector<Repair> repairs = apart(-30.0);
    repairs[0].plan.reset();
    repairs[0].refused = "before";
    EXPECT_TRUE(refuse_overlaps(repairs, false).empty());
    EXPECT_EQ(repairs[0].refused, "before");
    EXPECT_TRUE(repairs[1].plan);
}

TEST(PlacesThatMeet, AThirdIsNamedWithEachThatItMeets) {
    std::vector<Repair> repairs = apart(30.0);
    repairs.push_back(place("c", {90, 60, 0}, {90, 60, 0}));  // over the ground of both
    EXPECT_TRUE(refuse_overlaps(repairs, false).empty());
    EXPECT_NE(repairs[2].refused.find("a and c overlaps"), std::string::npos);
    EXPECT_NE(repairs[2].refused.find("b and c overlaps"), std::string::npos);
}

TEST(PlacesThatMeet, OfCoversNothingIsToldWhereOneIsRefused) {
    // a's covers meet b's, as the job allows; c lies in b's ground, and both are refused: nobody
    // lays b after a.
    std::vector<Repair> repairs = apart(30.0);
    repairs.push_back(place("c", {180, 20, 0}, {180, 20, 0}));
    EXPECT_TRUE(refuse_overlaps(repairs, true).empty());
    EXPECT_TRUE(repairs[0].plan);
    EXPECT_FALSE(repairs[1].plan || repairs[2].plan);
}

TEST(PlacesThatMeet, OfAHoleEachSideTakesItsOwnFace) {
    // By hand: a hole's outside reaches b, its inside does not; under its near skin lies a far one,
    // which takes nothing of this face whatever its edge.
    Repair hole = place("hole", {500, 10, 0}, {500, 10, 0});
    Plan inside = *place("", {700, 100, 10}, {700, 100, 10}, job::Side::inside).plan;
    Plan outside = *place("", {0, 100, 0}, {0, 100, 0}).plan;
    hole.plan->parts = {inside, outside};
    std::vector<Repair> repairs{hole, place("b", {90, 50, 0}, {90, 50, 0})};
    EXPECT_TRUE(refuse_overlaps(repairs, false).empty());
    EXPECT_NE(repairs[1].refused.find("the ground of hole and b overlaps"), std::string::npos);
    hole.plan->parts[1].job.part.below = 20.0;
    std::vector<Repair> covered{hole, place("b", {90, 50, 0}, {90, 50, 0})};
    EXPECT_TRUE(refuse_overlaps(covered, false).empty());
    EXPECT_TRUE(covered[0].plan && covered[1].plan);
}

TEST(PlacesThatMeet, WithinAHoleOfTheOtherNothingMeets) {
    // Ground of 100 mm that leaves out 40 mm in its middle, where 20 mm lie clear by 10 all round.
    Repair round = place("round", {0, 100, 0}, {0, 100, 0});
    const Region3 hole = Square{30, 40, 0}.edge();
    Loop3 inner;
    for (Vec3 p : hole.outer) inner.emplace_back(p + Vec3(0, 30, 0));
    Plan& plan = *round.plan;
    plan.place.scarf[0].holes = plan.place.footprint[0].holes = {inner};
    const auto at = [](double x, double y) { return Vec3(x, y, 0); };
    plan.place.dish_view.points = {at(0, 0),   at(100, 0), at(100, 100), at(0, 100),
                                   at(30, 30), at(70, 30), at(70, 70),   at(30, 70)};
    plan.place.dish_view.triangles = {{0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5},
                                      {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}};
    plan.place.footprint_view = plan.place.dish_view;
    Repair small = place("small", {40, 20, 0}, {40, 20, 0});
    for (auto* view : {&small.plan->place.dish_view, &small.plan->place.footprint_view})
        for (Vec3& p : view->points) p.y() += 40.0;
    for (auto* edge : {&small.plan->place.scarf, &small.plan->place.footprint})
        for (Vec3& p : edge->front().outer) p.y() += 40.0;
    std::vector<Repair> repairs{round, small};
    EXPECT_TRUE(refuse_overlaps(repairs, false).empty());
    EXPECT_TRUE(repairs[0].plan && repairs[1].plan) << repairs[0].refused;
}

}  // namespace
}  // namespace tearline::boat

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
    EXPECT_EQ(told[0].code, "footprints-meet");
    EXPECT_EQ(told[0].repairs, (std::vector<std::string>{"a", "b"}));
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

}  // namespace
}  // namespace tearline::boat

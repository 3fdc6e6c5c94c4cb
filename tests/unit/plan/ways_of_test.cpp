#include "core/plan/ways_of.h"

#include <gtest/gtest.h>

#include <numbers>

#include "core/plan/part_words.h"

namespace tearline::plan::ways_of_test {
namespace {

job::Job hole(job::ScarfFrom from) {
    job::Job job;
    job.damage.through = true;
    job.damage.side = job::Side::outside;
    job.hull.skin = 6.0;
    job.scarf.from = from;
    job.layup.stack = {{"mat 450", 0, 0}, {"roving 600", 45, 0}};
    job.layup_inside = job::Layup{};
    job.layup_inside->stack = {{"mat 300", 0, 0}};
    return job;
}

/// A plan with a ground area of a disc's, so much glass and resin.
Plan part(double ground_radius, double glass_g, double resin_g) {
    Plan plan;
    plan.place.areas.scarf_mm2 = std::numbers::pi * ground_radius * ground_radius;
    plan.quantities.totals.glass_g = glass_g;
    plan.quantities.totals.resin_g = resin_g;
    // Twelve pieces: an hour of tearing, at 5 minutes each (common practice).
    plan.quantities.plies.resize(1);
    plan.quantities.plies[0].pieces.resize(12);
    return plan;
}

TEST(WaysOf, AskForTheTwoThatWereNotMade) {
    std::vector<job::Job> asked;
    const auto ways = ways_of({}, hole(job::ScarfFrom::outside), [&](const job::Job& job) {
        asked.push_back(job);
        return Result<Plan>(Plan());
    });
    ASSERT_EQ(ways.size(), 3u);
    EXPECT_EQ(ways[0].from + ways[1].from + ways[2].from, "outsideinsideboth");
    EXPECT_TRUE(ways[0].chosen && !ways[1].chosen && !ways[2].chosen);
    ASSERT_EQ(asked.size(), 2u);
    EXPECT_EQ(asked[0].scarf.from, job::ScarfFrom::inside);
    EXPECT_EQ(asked[0].damage.side, job::Side::inside);
    EXPECT_EQ(asked[1].scarf.from, job::ScarfFrom::both);
    EXPECT_EQ(asked[1].damage.side, job::Side::outside) << "under the hand as before";
}

TEST(WaysOf, LayAnotherWaysClothsInTurnUntilItIsFull) {
    std::vector<job::Job> asked;
    (void)ways_of({}, hole(job::ScarfFrom::both), [&](const job::Job& job) {
        asked.push_back(job);
        return Result<Plan>(Plan());
    });
    ASSERT_EQ(asked.size(), 2u);
    EXPECT_EQ(asked[0].damage.side, job::Side::outside);
    EXPECT_TRUE(asked[0].layup.stack.empty());
    ASSERT_EQ(asked[0].layup.fill.size(), 2u);
    EXPECT_EQ(asked[0].layup.fill[1].fabric, "roving 600");
    EXPECT_EQ(asked[0].layup.fill[1].axis, 45.0);
    // From inside alone its own table says how work lies there.
    ASSERT_EQ(asked[1].layup.fill.size(), 1u);
    EXPECT_EQ(asked[1].layup.fill[0].fabric, "mat 300");
    EXPECT_TRUE(asked[1].layup.stack.empty());
}

TEST(WaysOf, LeaveAFillAsItIs) {
    job::Job job = hole(job::ScarfFrom::outside);
    job.layup.stack.clear();
    job.layup.fill = {{"mat 600", 0, 0}};
    job.layup_inside.reset();
    (void)ways_of({}, job, [&](const job::Job& other) {
        EXPECT_EQ(other.layup.fill.at(0).fabric, "mat 600");
        return Result<Plan>(Plan());
    });
}

TEST(WaysOf, CostWhatTheirPartsCostTogether) {
    // By hand: discs of 120 and 150 mm, 100 + 30 g of glass, 250 + 80 g of resin, two hours.
    Plan both;
    both.dish_mm3 = 45'000.0;
    both.parts = {part(120, 100, 250), part(150, 30, 80)};
    both.quantities.totals.glass_g = 1e6;  // of the whole: counted by its parts
    const auto ways = ways_of(both, hole(job::ScarfFrom::both), [&](const job::Job& job) {
        Plan one = part(200, 7, 9);
        one.dish_mm3 = job.damage.side == job::Side::outside ? 1000.0 : 2000.0;
        return Result<Plan>(one);
    });
    EXPECT_NEAR(ways[2].ground_radius_mm, 150.0, 1e-9);
    EXPECT_NEAR(ways[2].glass_g, 130.0, 1e-9);
    EXPECT_NEAR(ways[2].resin_g, 330.0, 1e-9);
    EXPECT_NEAR(ways[2].hours, 2.0, 1e-9);
    EXPECT_NEAR(ways[2].dish_mL, 45.0, 1e-9);
    EXPECT_NEAR(ways[0].ground_radius_mm, 200.0, 1e-9);
    EXPECT_NEAR(ways[0].hours, 1.0, 1e-9);
    EXPECT_NEAR(ways[0].dish_mL, 1.0, 1e-9);
    EXPECT_NEAR(ways[1].dish_mL, 2.0, 1e-9);
}

TEST(WaysOf, CheckTheScarfOfTheSideThatAsksForMore) {
    Plan both;
    both.parts.resize(3);
    const std::optional<double> required[] = {11.0, 16.0, 13.0};
    for (std::size_t i = 0; i < 3; ++i) {
        both.parts[i].scarf_check = laminate::ScarfCheck{};
        both.parts[i].scarf_check->required_ratio = required[i];
    }
    const auto none = [](const job::Job&) -> Result<Plan> { return no_safe_answer("too small"); };
    const auto ways = ways_of(both, hole(job::ScarfFrom::both), none);
    ASSERT_TRUE(ways[2].scarf_check);
    EXPECT_EQ(ways[2].scarf_check->required_ratio, 16.0);
    EXPECT_FALSE(ways[2].refused);
    EXPECT_EQ(ways[0].refused, "too small");
    EXPECT_FALSE(ways[0].scarf_check);
    EXPECT_EQ(ways[1].glass_g, 0.0);
}

TEST(WaysOf, SayWhoHasToGetWhere) {
    const auto access = [](job::Job job) {
        std::string words;
        const auto none = [](const job::Job&) { return Result<Plan>(Plan()); };
        for (const Way& way : ways_of({}, job, none)) words += way.access + "; ";
        return words;
    };
    job::Job job = hole(job::ScarfFrom::outside);
    job.backing = job::Backing{};
    job.backing->stays = true;
    EXPECT_EQ(
        access(job),
        "outside alone; the backing stays in; inside; the backing outside stays on; both faces, "
        "one after the other; ");
    job.backing->access = job::Access::both_sides;
    EXPECT_EQ(
        access(job),
        "outside; inside for the backing; inside; the backing outside stays on; both faces, one "
        "after the other; ");
}

TEST(WaysOf, FromInsideSayOfTheBackingWhatThePlanDoes) {
    // One truth: what the way from inside says is what its plan does.
    for (const bool stays : {false, true}) {
        job::Job inside = hole(job::ScarfFrom::inside);
        inside.backing = job::Backing{};
        inside.backing->stays = stays;
        std::vector<job::Job> asked;
        const auto ways = ways_of({}, inside, [&](const job::Job& job) {
            asked.push_back(job);
            return Result<Plan>(Plan());
        });
        EXPECT_EQ(ways[1].access,
                  stays ? "inside; the backing outside stays on" : "inside; outside for the mould");
        // Ways that are not asked for are planned as by default: from both it gives way to the
        // second face.
        EXPECT_EQ(asked[0].backing->stays, true);
        EXPECT_EQ(asked[1].backing->stays, false);
    }
}

/// What a part is followed by, where the next one is `next`.
std::string between(const job::Job& next) {
    Plan part;
    part.quantities.stages.resize(2);
    part.quantities.stages[0].then = "tack";
    tell_what_comes_between(part, next);
    EXPECT_EQ(part.quantities.stages[0].then, "tack") << "only the last stage cures";
    return part.quantities.stages[1].then;
}

bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

TEST(WhatComesBetween, OfAHoleSidesTellsWhatIsGroundAndWhatIsNot) {
    job::Job next = hole(job::ScarfFrom::both);
    next.part.name = "from outside";
    next.damage.depth = 3.25;
    next.scarf.grind_back = 0.5;
    const std::string words = between(next);
    EXPECT_TRUE(says(words, "no work on it before 48 h at 18 °C (64 °F) or more")) << words;
    EXPECT_TRUE(says(words, "grind from outside to 3.25 mm inside the outline"));
    EXPECT_TRUE(says(words, "0.50 mm of it off the back of these plies"));
    EXPECT_TRUE(says(words, "it holds the hole shut"));
    next.scarf.grind_back = 0.0;
    EXPECT_TRUE(says(between(next), "to the back of these plies, abraded"));
    next.display_units = Units::us;
    const std::string us = between(next);
    EXPECT_TRUE(says(us, "48 h at 64 °F (18 °C) or more"));
    // By hand: 3.25 mm are 0.128 in.
    EXPECT_TRUE(says(us, "to 0.128 in inside the outline")) << us;
}

TEST(WhatComesBetween, OfASandwichsSkinsIsTheCore) {
    job::Job next = hole(job::ScarfFrom::outside);
    next.core = job::Core{};
    const std::string styrene = between(next);
    EXPECT_TRUE(says(styrene, "Then the core, by its own table"));
    EXPECT_TRUE(says(styrene, "mat against it on both faces"));
    EXPECT_FALSE(says(styrene, "backing"));
    next.resin.kind = job::ResinKind::epoxy;
    EXPECT_FALSE(says(between(next), "mat against it"));
}

TEST(WhatComesBetween, IsNothingWhereNothingWasLaid) {
    Plan part;
    tell_what_comes_between(part, hole(job::ScarfFrom::both));
    EXPECT_TRUE(part.quantities.stages.empty());
}

}  // namespace
}  // namespace tearline::plan::ways_of_test

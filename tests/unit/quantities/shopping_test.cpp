#include "core/quantities/shopping.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/job/resin_of_kind.h"
#include "core/quantities/quantities.h"
#include "tests/unit/quantities/planned_discs.h"

namespace tearline::quantities {
namespace {

/// The worked job.
HandMade ready_to_buy(job::Job changes = {}) {
    HandMade plan = worked_job(20.0);
    plan.job.layup = changes.layup;
    plan.job.prices = changes.prices;
    return filled(plan);
}

/// With a roll of its mat, 2.4 m of 1250 mm.
Shopping bought(const HandMade& plan) {
    const std::vector<layout::Roll> rolls = {{"mat 450", 1250.0, 2400.0, 0.8, 0.0, 0.0, {}}};
    return shopping_of(plan.job, plan.areas, plan.quantities, rolls);
}

ShoppingItem item(const HandMade& plan, const std::string& kind) {
    for (const ShoppingItem& each : bought(plan).items)
        if (each.kind == kind) return each;
    throw std::runtime_error("not on the list: " + kind);
}

TEST(Shopping, ListsEverythingThatIsUsedUp) {
    const HandMade plan = ready_to_buy();
    EXPECT_DOUBLE_EQ(item(plan, "cloth").amount, 2.4);
    EXPECT_EQ(item(plan, "cloth").unit, "m");
    // And the test cup of 100 g with its 1.25 % before the work.
    EXPECT_DOUBLE_EQ(item(plan, "resin").amount, plan.quantities.totals.resin_g + 100.0);
    EXPECT_DOUBLE_EQ(item(plan, "hardener").amount, *plan.quantities.totals.hardener_g + 1.25);
    EXPECT_DOUBLE_EQ(item(plan, "topcoat").amount, *plan.quantities.totals.topcoat_g);
    EXPECT_DOUBLE_EQ(item(plan, "topcoat hardener").amount,
                     *plan.quantities.totals.topcoat_hardener_g);
    // The first coat seals and is sanded off: the finish takes as much again.
    EXPECT_DOUBLE_EQ(item(plan, "gel coat").amount, *plan.quantities.totals.topcoat_g);
    EXPECT_DOUBLE_EQ(item(plan, "gel coat hardener").amount,
                     *plan.quantities.totals.topcoat_hardener_g);
    EXPECT_DOUBLE_EQ(item(plan, "fairing").amount, plan.quantities.totals.fairing_mL);
}

TEST(Shopping, WhatIsLeftInCupsTooSmallToMeasureIsBoughtToo) {
    // By hand: 100 g more of each of two copies, with 1.25 % of hardener.
    HandMade plan = ready_to_buy();
    const double resin = item(plan, "resin").amount, hardener = item(plan, "hardener").amount;
    plan.quantities.stages.back().cups.front().left_g += 100.0;
    plan.job.layup.copies = 2;
    // There is one test cup, whatever the copies: the 100 g of `resin` already.
    EXPECT_NEAR(item(plan, "resin").amount, 2.0 * resin + 100.0, 1e-9);
    EXPECT_NEAR(item(plan, "hardener").amount, 2.0 * hardener + 1.25, 1e-9);
}

TEST(Shopping, ResinIsBoughtInWholeCans) {
    job::Job job;
    EXPECT_EQ(item(ready_to_buy(job), "resin").packs, 1);
    // By hand: about 0.86 kg a copy, so six copies are 5.2 kg: two cans of 5 kg.
    job.layup.copies = 6;
    const HandMade six = ready_to_buy(job);
    EXPECT_GT(item(six, "resin").amount, 5000.0);
    EXPECT_LT(item(six, "resin").amount, 5500.0);
    EXPECT_EQ(item(six, "resin").packs, 2);
}

TEST(Shopping, CostsAreOfWhatIsBought) {
    job::Job job;
    job::Prices prices;
    prices.currency = "NOK";
    prices.fabric_per_m2["mat 450"] = 40.0;
    prices.resin_per_kg = 60.0;
    job.prices = prices;
    const HandMade plan = ready_to_buy(job);
    // By hand: 2.4 m x 1.25 m x 40 = 120; a can of 5 kg at 60 = 300.
    EXPECT_NEAR(item(plan, "cloth").cost.value(), 120.0, 1e-9);
    EXPECT_NEAR(item(plan, "resin").cost.value(), 300.0, 1e-9);
    EXPECT_FALSE(item(plan, "topcoat").cost);
    EXPECT_NEAR(bought(plan).cost.value(), 420.0, 1e-9);
    EXPECT_FALSE(bought(plan).complete);
    EXPECT_EQ(bought(plan).currency, "NOK");
}

TEST(Shopping, IsCompleteWhenEverythingHasAPrice) {
    job::Job job;
    job.prices = job::Prices{"EUR", {{"mat 450", 4.0}}, 6.0, 20.0, 9.0, 25.0};
    const HandMade plan = ready_to_buy(job);
    EXPECT_TRUE(bought(plan).complete);
    double sum = 0.0;
    const Shopping list = bought(plan);
    for (const ShoppingItem& each : list.items) sum += each.cost.value();
    EXPECT_NEAR(bought(plan).cost.value(), sum, 1e-9);
    // Compound by the litre.
    EXPECT_NEAR(item(plan, "fairing").cost.value(),
                plan.quantities.totals.fairing_mL / 1000.0 * 25.0, 1e-9);
}

TEST(Shopping, WithoutPricesNothingCosts) {
    const HandMade plan = ready_to_buy();
    EXPECT_FALSE(bought(plan).cost);
    const Shopping list = bought(plan);
    for (const ShoppingItem& each : list.items) EXPECT_FALSE(each.cost);
}

TEST(Shopping, EpoxyIsBoughtAsResinAndHardener) {
    HandMade plan = worked_job(20.0);
    plan.job.resin = job::resin_of_kind(job::ResinKind::epoxy);
    plan.job.resin.hardener_parts = {5.0, 1.0};
    plan.job.resin.hardener_basis = job::Basis::mass;
    plan = filled(plan);
    // By hand: of 6 parts mixed 5 are resin and 1 hardener.
    EXPECT_NEAR(item(plan, "resin").amount, (plan.quantities.totals.resin_g + 100.0) * 5.0 / 6.0,
                1e-9);
    EXPECT_NEAR(item(plan, "hardener").amount, (plan.quantities.totals.resin_g + 100.0) / 6.0,
                1e-9);
    // Polyester topcoat does not bond to it: none is bought unless the job file says which.
    EXPECT_THROW((void)item(plan, "topcoat"), std::runtime_error);
    plan.job.topcoat_given = true;
    plan = filled(plan);
    EXPECT_GT(item(plan, "topcoat").amount, 0.0);
}

TEST(Shopping, TopcoatsHardenerMovedUpFromTheRangesEndIsBoughtToo) {
    // Closed form: at the lower end of its range, 1.2 %, each cup takes the scale's half a
    // division, 0.05 g, more, and then what the scale shows next in tenths (DEFINITIONS.md).
    HandMade plan = ready_to_buy();
    plan.job.topcoat.hardener_percent = 1.2;
    plan = filled(plan);
    double dose = 0.0;
    for (const Cup& cup : plan.quantities.topcoat_cups) {
        ASSERT_EQ(cup.hardener_by.value().tool, Tool::scale);
        dose += 0.1 * std::ceil((0.012 * cup.mix_resin_g + 0.05) / 0.1);
    }
    EXPECT_NEAR(item(plan, "topcoat hardener").amount, dose, 1e-9);
}

TEST(Shopping, HardenerMovedUpFromTheRangesEndIsBoughtToo) {
    // Closed form: 0.3 g more in one cup of the job than its percentage asks for.
    HandMade plan = ready_to_buy();
    const double before = item(plan, "hardener").amount;
    Cup& cup = plan.quantities.stages.back().cups.front();
    cup.mix_hardener_g = cup.mix_hardener_g.value() + 0.3;
    EXPECT_NEAR(item(plan, "hardener").amount, before + 0.3, 1e-9);
}

}  // namespace
}  // namespace tearline::quantities

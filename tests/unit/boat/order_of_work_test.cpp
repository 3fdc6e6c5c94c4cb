#include "core/boat/order_of_work.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/quantities/cup_shares.h"
#include "core/quantities/cups.h"

namespace tearline::boat {
namespace {

/// A job whose gel time counts: 25 min, used for 0.6 of it at 0.05 m2 a minute: 0.75 m2 a cup.
job::Job timed_job() {
    job::Job job;
    job.resin.hardener_percent = 1.25;
    job.resin.gel_minutes = Minutes(25.0);
    job.resin.gel_at = job::GelAt{};
    job.shop.temperature = Celsius(20.0);
    return job;
}

/// A place of a priming coat and stages of one ply each, that take so much resin [g] each.
Repair place(const std::string& name, const std::vector<double>& resin_g,
             const job::Job& job = timed_job()) {
    Plan plan;
    plan.job = job;
    quantities::Quantities& q = plan.quantities;
    q.totals.prime_g = 10.0;
    q.totals.ground_area_m2 = 0.02;
    quantities::Stage prime;
    prime.of = quantities::Stage::Of::ground;
    prime.cups = quantities::cups_for({Grams(10.0), SquareMetres(0.02)}, job);
    q.stages.push_back(prime);
    for (std::size_t k = 0; k < resin_g.size(); ++k) {
        quantities::PlyAmounts ply;
        ply.ply = static_cast<int>(k) + 1;
        ply.resin_g = resin_g[k];
        ply.glass_area_mm2 = 30'000.0;
        q.plies.push_back(ply);
        quantities::Stage stage;
        stage.plies = {ply.ply};
        stage.cups = quantities::cups_for({Grams(resin_g[k]), SquareMetres(0.03)}, job);
        q.stages.push_back(stage);
    }
    Repair out;
    out.name = name;
    out.plan = std::move(plan);
    return out;
}

double own_resin(const Repair& repair) {
    double sum = 0.0;
    for (const quantities::Stage& stage : repair.plan->quantities.stages)
        for (const quantities::Cup& cup : stage.cups) sum += cup.resin_g;
    return sum;
}

TEST(OrderOfWork, LaysTheFirstStagesOfAllPlacesInOneGo) {
    const std::vector<Repair> repairs{place("a", {40, 40}), place("b", {40}), place("c", {40, 40})};
    const auto rounds = order_of_work(repairs, {});
    ASSERT_EQ(rounds.size(), 2u);
    ASSERT_EQ(rounds[0].goes.size(), 3u);
    EXPECT_EQ(rounds[0].goes[0].stages, (std::vector<std::size_t>{0, 1}));  // prime, then wet on it
    ASSERT_EQ(rounds[1].goes.size(), 2u);
    EXPECT_EQ(rounds[1].goes[1].repair, 2u);
    EXPECT_EQ(rounds[1].goes[1].stages, std::vector<std::size_t>{2});
}

TEST(OrderOfWork, WaitsForTheCureOfCoversItLiesOn) {
    // By hand: b lies on a, d on b; c meets nobody. Each wait is a round that begins after a cure,
    // and with nobody beside it a place takes of no other's cup.
    std::vector<Repair> repairs{place("a", {40, 40}), place("b", {40}), place("c", {40}),
                                place("d", {40})};
    const auto rounds = order_of_work(repairs, {{0, 1}, {1, 3}});
    std::vector<std::vector<std::size_t>> who;
    std::vector<bool> after_cure;
    for (const Round& round : rounds) {
        std::vector<std::size_t> places;
        for (const Go& go : round.goes) places.push_back(go.repair);
        std::sort(places.begin(), places.end());
        who.push_back(places);
        after_cure.push_back(round.after_cure);
    }
    EXPECT_EQ(who, (std::vector<std::vector<std::size_t>>{{0, 2}, {0}, {1}, {3}}));
    EXPECT_EQ(after_cure, (std::vector<bool>{false, false, true, true}));
    for (const SharedCup& cup : share_cups(rounds, repairs))
        for (const SharedCup::Take& take : cup.takes)
            EXPECT_TRUE(take.repair == 0 || take.repair == 2);
}

TEST(OrderOfWork, PutsSmallPlacesFirstAndLeavesRefusedOnesOut) {
    std::vector<Repair> repairs{place("large", {900}), place("refused", {40}),
                                place("small", {40})};
    repairs[1].plan.reset();
    const auto rounds = order_of_work(repairs, {});
    ASSERT_EQ(rounds.size(), 1u);
    ASSERT_EQ(rounds[0].goes.size(), 2u);
    EXPECT_EQ(rounds[0].goes[0].repair, 2u);
    EXPECT_EQ(rounds[0].goes[1].repair, 0u);
}

TEST(OrderOfWork, BeginsARoundWhereAPartHasToCure) {
    std::vector<Repair> repairs{place("a", {40, 40}), place("b", {40, 40})};
    repairs[0].plan->quantities.stages[1].part = "inside";
    repairs[0].plan->quantities.stages[0].part = "inside";
    repairs[0].plan->quantities.stages[2].part = "outside";
    const auto rounds = order_of_work(repairs, {});
    ASSERT_EQ(rounds.size(), 3u);
    EXPECT_FALSE(rounds[1].after_cure);
    EXPECT_EQ(rounds[1].goes.front().repair, 1u);
    EXPECT_TRUE(rounds[2].after_cure);
    EXPECT_EQ(rounds[2].goes.front().repair, 0u);
}

TEST(SharedCups, HoldWhatSmallPlacesNeedAndNoMoreThanACup) {
    // 10 + 40 g a place: five make 250 g, resin.cup; the sixth and seventh take the next.
    std::vector<Repair> repairs;
    for (int k = 0; k < 7; ++k) repairs.push_back(place("p" + std::to_string(k), {40}));
    double before = 0.0;
    for (const Repair& repair : repairs) before += own_resin(repair);
    const auto cups = share_cups(order_of_work(repairs, {}), repairs);
    ASSERT_EQ(cups.size(), 2u);
    EXPECT_NEAR(cups[0].cup.resin_g, 250.0, 1e-9);
    EXPECT_NEAR(cups[1].cup.resin_g, 100.0, 1e-9);
    double shared = 0.0;
    for (const SharedCup& cup : cups) {
        double taken = 0.0;
        for (const SharedCup::Take& take : cup.takes) taken += take.resin_g;
        EXPECT_NEAR(taken, cup.cup.resin_g, 1e-9);
        shared += taken;
    }
    EXPECT_NEAR(shared, before, 1e-9);
    for (const Repair& repair : repairs)
        for (std::size_t i = 0; i < 2; ++i) {
            const quantities::Stage& stage = repair.plan->quantities.stages[i];
            EXPECT_GT(stage.boat_cup, 0);
            ASSERT_EQ(stage.cups.size(), 1u);
            EXPECT_EQ(stage.cups[0].mix_resin_g, 0.0);  // no dose
            EXPECT_EQ(quantities::cups_mixed(repair.plan->quantities, i), 0u);
        }
}

TEST(SharedCups, AreSpreadWithinThePotLife) {
    // 0.05 m2 a place; at 0.01 m2 a minute a cup wets 0.15 m2: three places.
    job::Job slow = timed_job();
    slow.laminator.wet_out_rate = 0.01;
    std::vector<Repair> repairs;
    for (int k = 0; k < 4; ++k) repairs.push_back(place("p" + std::to_string(k), {20}, slow));
    const auto cups = share_cups(order_of_work(repairs, {}), repairs);
    ASSERT_FALSE(cups.empty());
    for (const SharedCup& cup : cups) {
        double area = 0.0;
        for (const SharedCup::Take& take : cup.takes) area += take.area_m2;
        EXPECT_LE(area, 0.15 + 1e-9);
    }
}

TEST(SharedCups, AreNoneWithoutAPotLife) {
    job::Job job = timed_job();
    job.resin.gel_minutes.reset();
    job.resin.gel_at.reset();
    std::vector<Repair> repairs{place("a", {40}, job), place("b", {40}, job)};
    EXPECT_TRUE(share_cups(order_of_work(repairs, {}), repairs).empty());
}

TEST(SharedCups, AreNoneOfTwoDoses) {
    job::Job more = timed_job();
    more.resin.hardener_percent = 1.5;
    more.resin.gel_at->percent = 1.5;
    std::vector<Repair> repairs{place("a", {40}), place("b", {40}, more)};
    EXPECT_TRUE(share_cups(order_of_work(repairs, {}), repairs).empty());
}

TEST(SharedCups, LeavePlacesOfSeveralCopiesAndOfOnePlaceAlone) {
    job::Job twice = timed_job();
    twice.layup.copies = 2;
    std::vector<Repair> repairs{place("a", {40}), place("b", {40}, twice), place("c", {900})};
    EXPECT_TRUE(share_cups(order_of_work(repairs, {}), repairs).empty());
    for (const Repair& repair : repairs)
        for (const quantities::Stage& stage : repair.plan->quantities.stages)
            EXPECT_EQ(stage.boat_cup, 0);
}

TEST(SharedCups, TakeAPrimingCoatThatIsTooSmallWithItsStage) {
    std::vector<Repair> repairs{place("a", {40}), place("b", {40})};
    for (Repair& repair : repairs) {
        auto& stages = repair.plan->quantities.stages;
        stages[0].cups = {quantities::cup_of_another(Grams(10.0), repair.plan->job)};
        stages[1].primes_g = 10.0;
    }
    const auto cups = share_cups(order_of_work(repairs, {}), repairs);
    ASSERT_EQ(cups.size(), 1u);
    EXPECT_NEAR(cups[0].cup.resin_g, 100.0, 1e-9);
    ASSERT_EQ(cups[0].takes.size(), 4u);
    EXPECT_NEAR(cups[0].takes[0].resin_g, 10.0, 1e-9);
    EXPECT_NEAR(cups[0].takes[0].area_m2, 0.02, 1e-12);
    EXPECT_NEAR(cups[0].takes[1].area_m2, 0.03, 1e-12);
    EXPECT_EQ(repairs[0].plan->quantities.stages[1].primes_g, 0.0);
}

TEST(TimedRounds, CountACupOnceWhereItIsMixed) {
    // Wetting out 0.05 m2 at 0.05 m2 a minute: a minute a place; the one cup 5 minutes.
    std::vector<Repair> repairs{place("a", {40}), place("b", {40})};
    auto rounds = order_of_work(repairs, {});
    const auto cups = share_cups(rounds, repairs);
    ASSERT_EQ(cups.size(), 1u);
    time_rounds(repairs, cups, rounds);
    EXPECT_NEAR(rounds[0].goes[0].minutes, 6.0, 1e-9);
    EXPECT_NEAR(rounds[0].goes[1].minutes, 1.0, 1e-9);
}

}  // namespace
}  // namespace tearline::boat

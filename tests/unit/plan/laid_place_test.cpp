#include "core/plan/laid_place.h"

#include <gtest/gtest.h>

namespace tearline::plan {
namespace {

/// A job with nothing left at its default that either half of it says.
job::Job whole_job() {
    job::Job job;
    job.file = "one.toml";
    job.lines = {{"damage", 3}};
    job.title = "one";
    job.hull.skin = 9.0;
    job.damage.depth = 5.0;
    job.scarf.ratio = 15.0;
    job.layup.copies = 3;
    job.resin.kind = job::ResinKind::vinylester;
    job.resin.cured_density = 1.1;
    job.resin.hardener_percent = 1.7;
    job.resin.cup = Grams(333.0);
    job.laminator.wet_out_rate = 0.07;
    job.shop.temperature = Celsius(11.0);
    job.shop.cutting_gap = 8.0;
    job.prices = job::Prices{};
    job.effective_json = "{}";
    return job;
}

TEST(ShapeOf, KeepsWhatAShapeHangsOn) {
    const job::Job shape = shape_of(whole_job());
    EXPECT_EQ(shape.hull.skin, 9.0);
    EXPECT_EQ(shape.damage.depth, 5.0);
    EXPECT_EQ(shape.scarf.ratio, 15.0);
    EXPECT_EQ(shape.layup.copies, 3);
    // A ply is as thick as its resin is dense, the roll is cut with a gap.
    EXPECT_EQ(shape.resin.kind, job::ResinKind::vinylester);
    EXPECT_EQ(shape.resin.cured_density, 1.1);
    EXPECT_EQ(shape.shop.cutting_gap, 8.0);
    // A refusal names the file and its line.
    EXPECT_EQ(shape.file, "one.toml");
    EXPECT_EQ(shape.lines.at("damage"), 3);
}

TEST(ShapeOf, LeavesOutWhatIsMixedWorkedAndPaid) {
    const job::Job shape = shape_of(whole_job()), usual;
    EXPECT_EQ(shape.title, "");
    EXPECT_EQ(shape.resin.hardener_percent, usual.resin.hardener_percent);
    EXPECT_EQ(shape.resin.cup.value(), usual.resin.cup.value());
    EXPECT_EQ(shape.laminator.wet_out_rate, usual.laminator.wet_out_rate);
    EXPECT_EQ(shape.shop.temperature.value(), usual.shop.temperature.value());
    EXPECT_FALSE(shape.prices);
    EXPECT_EQ(shape.effective_json, "");
}

TEST(TakeMixing, BringsAJobBackFromItsShape) {
    const job::Job whole = whole_job();
    job::Job again = shape_of(whole);
    again.damage.depth = 6.0;  // as it was found on the hull
    take_mixing(again, whole);
    EXPECT_EQ(again.title, "one");
    EXPECT_EQ(again.resin.hardener_percent, 1.7);
    EXPECT_EQ(again.resin.cup.value(), 333.0);
    EXPECT_EQ(again.laminator.wet_out_rate, 0.07);
    EXPECT_EQ(again.shop.temperature.value(), 11.0);
    EXPECT_EQ(again.shop.cutting_gap, 8.0);
    EXPECT_TRUE(again.prices);
    EXPECT_EQ(again.damage.depth, 6.0);
}

TEST(KeptPlace, IsThatOfTheSameShapeUntilItIsForgotten) {
    KeptPlace kept;
    const job::Job shape = shape_of(whole_job());
    EXPECT_FALSE(kept.of(shape));
    LaidPlace laid;
    laid.place.areas.scarf_mm2 = 77.0;
    EXPECT_EQ(kept.keep(shape, std::move(laid)).place.areas.scarf_mm2, 77.0);
    // What is mixed is no part of it.
    job::Job mixed = whole_job();
    mixed.resin.hardener_percent = 1.0;
    mixed.title = "two";
    mixed.laminator.use_fraction = 0.5;
    ASSERT_TRUE(kept.of(shape_of(mixed)));
    EXPECT_EQ(kept.of(shape_of(mixed))->place.areas.scarf_mm2, 77.0);
    kept.forget();
    EXPECT_FALSE(kept.of(shape));
}

TEST(KeptPlace, IsNoneOfAnotherShape) {
    KeptPlace kept;
    kept.keep(shape_of(whole_job()), {});
    const auto other = [&](auto change) {
        job::Job job = whole_job();
        change(job);
        return kept.of(shape_of(job)) != nullptr;
    };
    EXPECT_TRUE(other([](job::Job&) {}));
    EXPECT_FALSE(other([](job::Job& job) { job.damage.depth = 5.1; }));
    EXPECT_FALSE(other([](job::Job& job) { job.scarf.ratio = 12.0; }));
    EXPECT_FALSE(other([](job::Job& job) { job.resin.cured_density = 1.2; }));
    EXPECT_FALSE(other([](job::Job& job) { job.shop.cutting_gap = 5.0; }));
    EXPECT_FALSE(other([](job::Job& job) { job.after_ply = 2; })) << "no key of the file";
}

}  // namespace
}  // namespace tearline::plan

#include "core/quantities/hardener.h"

#include <gtest/gtest.h>

namespace tearline::quantities {
namespace {

job::Resin polyester(double percent) {
    job::Resin resin;
    resin.hardener_percent = percent;
    return resin;
}

TEST(Hardener, ByMassIsAPercentageOfTheScale) {
    // By hand: 1.25 % of 400 g is 5 g; at 1.15 g/mL 4.3478 mL.
    const auto dose = hardener_for(Grams(400.0), polyester(1.25));
    ASSERT_TRUE(dose);
    EXPECT_NEAR(dose->mass.value(), 5.0, 1e-12);
    EXPECT_NEAR(dose->volume.value(), 4.347826, 1e-6);
}

TEST(Hardener, ByVolumeIsAPercentageOfTheCup) {
    // SOURCES.md section 4 (derived): 1 % of a US quart, 946.35 mL, is 9.464 mL.
    job::Resin resin = polyester(1.0);
    resin.hardener_basis = job::Basis::volume;
    const Grams quart = Millilitres(946.353) * resin.density;
    const auto dose = hardener_for(quart, resin);
    ASSERT_TRUE(dose);
    EXPECT_NEAR(dose->volume.value(), 9.464, 5e-4);
    EXPECT_NEAR(dose->mass.value(), 9.46353 * 1.15, 5e-5);
}

TEST(Hardener, OnePercentOfAFluidOunce) {
    // SOURCES.md section 4 (derived): 0.29574 mL.
    job::Resin resin = polyester(1.0);
    resin.hardener_basis = job::Basis::volume;
    const auto dose = hardener_for(Millilitres(29.5735295625) * resin.density, resin);
    EXPECT_NEAR(dose->volume.value(), 0.29574, 5e-6);
}

TEST(Hardener, EpoxyByMassIsAShareOfTheMixture) {
    // By hand: 5 : 1 in 600 g of mixture is 100 g of hardener.
    job::Resin resin;
    resin.kind = job::ResinKind::epoxy;
    resin.hardener_parts = {{5.0, 1.0}};
    EXPECT_NEAR(hardener_for(Grams(600.0), resin)->mass.value(), 100.0, 1e-12);
}

TEST(Hardener, EpoxyByVolumeIsAShareOfTheMixturesVolume) {
    // By hand: 1100 g at 1.10 g/mL is 1000 mL; 2 : 1 is 333.33 mL; at 0.96 g/mL 320 g. Second
    // route: the resin left is 780 g in 666.67 mL, and both together weigh 1100 g again.
    job::Resin resin;
    resin.kind = job::ResinKind::epoxy;
    resin.density = GramsPerMillilitre(1.10);
    resin.hardener_density = GramsPerMillilitre(0.96);
    resin.hardener_parts = {{2.0, 1.0}};
    resin.hardener_basis = job::Basis::volume;
    const auto dose = hardener_for(Grams(1100.0), resin);
    EXPECT_NEAR(dose->volume.value(), 333.333333, 1e-6);
    EXPECT_NEAR(dose->mass.value(), 320.0, 1e-9);
}

TEST(Hardener, NoFigureGivesNoHardener) {
    job::Resin resin;
    resin.kind = job::ResinKind::vinylester;
    EXPECT_FALSE(hardener_for(Grams(100.0), resin));
}

job::Job with_gel_time() {
    job::Job job;
    job.resin = polyester(1.25);
    job.resin.gel_minutes = Minutes(20.0);
    job.resin.gel_at = job::GelAt{Celsius(20.0), 1.25, Grams(100.0)};
    return job;
}

TEST(GelTime, CountsWithinTwoDegreesAndATenthOfAPercent) {
    // DEFINITIONS.md, Resin: +-2 C and +-0.1 %; use within 0.6 of 20 minutes.
    job::Job job = with_gel_time();
    EXPECT_NEAR(use_within(job)->value(), 12.0, 1e-12);
    job.shop.temperature = Celsius(22.0);
    EXPECT_TRUE(use_within(job));
    job.shop.temperature = Celsius(22.1);
    EXPECT_FALSE(use_within(job));
    job.shop.temperature = Celsius(18.0);
    job.resin.hardener_percent = 1.35;
    EXPECT_TRUE(use_within(job));
    job.resin.hardener_percent = 1.36;
    EXPECT_FALSE(use_within(job));
}

TEST(GelTime, ReasonNamesBothTemperatures) {
    job::Job job = with_gel_time();
    job.shop.temperature = Celsius(25.0);
    const Sentence said = reason_against_gel_time(job);
    const std::string& reason = said.told;
    EXPECT_NE(reason.find("at 20 C"), std::string::npos) << reason;
    EXPECT_NE(reason.find("25 C"), std::string::npos) << reason;
    // By hand: 20 C are 68 F, 25 C are 77 F; a sheet knows no key of the job file.
    EXPECT_NE(said.us.find("at 68 °F"), std::string::npos) << said.us;
    EXPECT_NE(said.us.find("77 °F"), std::string::npos) << said.us;
    EXPECT_EQ(said.us.find("gel_minutes"), std::string::npos) << said.us;
}

TEST(GelTime, EpoxyIsJudgedByTemperatureAlone) {
    job::Job job = with_gel_time();
    job.resin.kind = job::ResinKind::epoxy;
    job.resin.hardener_percent.reset();
    EXPECT_TRUE(use_within(job));
}

}  // namespace
}  // namespace tearline::quantities

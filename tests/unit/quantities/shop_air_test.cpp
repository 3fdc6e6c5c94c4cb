#include <gtest/gtest.h>

#include <cmath>

#include "core/job/job.h"
#include "core/quantities/dew_point.h"
#include "core/quantities/hardener.h"

namespace tearline::quantities {
namespace {

TEST(DewPoint, FallsWithDrierAirAndRisesWithWarmerAir) {
    for (double warm = 0.0; warm <= 40.0; warm += 5.0)
        for (double humid = 20.0; humid < 100.0; humid += 10.0) {
            const double here = dew_point(Celsius(warm), Percent(humid)).value();
            EXPECT_LT(here, warm);
            EXPECT_LT(here, dew_point(Celsius(warm), Percent(humid + 10.0)).value());
            EXPECT_LT(here, dew_point(Celsius(warm + 5.0), Percent(humid)).value());
        }
}

TEST(DewPoint, IsWhereTheVapourOfTheAirSaturates) {
    // The definition itself: saturation at the dew point is humidity times saturation at the air's
    // own temperature, by Magnus' formula (SOURCES.md section 11).
    const auto saturation = [](double t) { return std::exp(17.62 * t / (243.12 + t)); };
    for (double warm = -10.0; warm <= 45.0; warm += 2.5)
        for (const double humid : {5.0, 37.0, 80.0, 99.0}) {
            const double dew = dew_point(Celsius(warm), Percent(humid)).value();
            EXPECT_NEAR(saturation(dew), humid / 100.0 * saturation(warm), 1e-9);
        }
}

job::Job with_gel(double shop, double percent) {
    job::Job job;
    job.resin.hardener_percent = percent;
    job.resin.gel_minutes = Minutes(20.0);
    job.resin.gel_at = job::GelAt{Celsius(20.0), 1.5, Grams(100.0)};
    job.shop.temperature = Celsius(shop);
    return job;
}

TEST(GelTime, CountsUpToTheVeryEndOfItsRange) {
    // DEFINITIONS.md, Resin: within 2 C and 0.1 %, the ends among them; 0.6 of 20 minutes are 12.
    for (const double shop : {18.0, 20.0, 22.0})
        for (const double percent : {1.4, 1.5, 1.6}) {
            const auto minutes = use_within(with_gel(shop, percent));
            ASSERT_TRUE(minutes) << shop << " " << percent;
            EXPECT_NEAR(minutes->value(), 12.0, 1e-9);
        }
    for (const double shop : {17.99, 22.01}) EXPECT_FALSE(use_within(with_gel(shop, 1.5))) << shop;
    for (const double percent : {1.39, 1.61})
        EXPECT_FALSE(use_within(with_gel(20.0, percent))) << percent;
}

job::Resin polyester(double percent, job::Basis basis) {
    job::Resin resin;
    resin.hardener_percent = percent;
    resin.hardener_basis = basis;
    return resin;
}

TEST(Recipe, GivesTheOtherBasisWhereNoMakersHardenerLeavesTheRange) {
    // By hand, range 1 to 2 %, density taken as 1.15: by mass p % measured in mL is p x 1.02/1.15
    // to p x 1.18/1.15; so 1.13 % may become 1.002 % and 1.12 % only 0.993 %; 1.94 % up to 1.991
    // %, 1.95 % over 2.
    EXPECT_TRUE(recipe_for(Grams(100.0), polyester(1.13, job::Basis::mass)).hardener_volume);
    EXPECT_FALSE(recipe_for(Grams(100.0), polyester(1.12, job::Basis::mass)).hardener_volume);
    EXPECT_TRUE(recipe_for(Grams(100.0), polyester(1.94, job::Basis::mass)).hardener_volume);
    EXPECT_FALSE(recipe_for(Grams(100.0), polyester(1.95, job::Basis::mass)).hardener_volume);
    // By volume weighed it is the other way: p x 1.15/1.18 to p x 1.15/1.02: 1.77 % up to 1.996 %.
    EXPECT_TRUE(recipe_for(Grams(100.0), polyester(1.03, job::Basis::volume)).hardener);
    EXPECT_FALSE(recipe_for(Grams(100.0), polyester(1.02, job::Basis::volume)).hardener);
    EXPECT_TRUE(recipe_for(Grams(100.0), polyester(1.77, job::Basis::volume)).hardener);
    EXPECT_FALSE(recipe_for(Grams(100.0), polyester(1.78, job::Basis::volume)).hardener);
}

TEST(Recipe, OfAnOwnDensityIsGivenOnBothBases) {
    // By hand: 1.0 % of 230 g is 2.3 g, at 1.15 g/mL 2 mL, whatever the ends of the range.
    job::Resin resin = polyester(1.0, job::Basis::mass);
    resin.hardener_density_given = true;
    const Recipe recipe = recipe_for(Grams(230.0), resin);
    ASSERT_TRUE(recipe.hardener_volume);
    EXPECT_NEAR(recipe.hardener->value(), 2.3, 1e-12);
    EXPECT_NEAR(recipe.hardener_volume->value(), 2.0, 1e-12);
}

TEST(Recipe, IsProportional) {
    // Twice the batch takes twice of each part, for every kind and basis.
    for (const job::ResinKind kind :
         {job::ResinKind::polyester, job::ResinKind::vinylester, job::ResinKind::epoxy})
        for (const job::Basis basis : {job::Basis::mass, job::Basis::volume}) {
            job::Resin resin = polyester(1.5, basis);
            resin.kind = kind;
            resin.hardener_parts = {3.0, 1.0};
            resin.density = GramsPerMillilitre(1.12);
            resin.hardener_density = GramsPerMillilitre(0.97);
            resin.hardener_density_given = true;
            const Recipe one = recipe_for(Grams(100.0), resin),
                         two = recipe_for(Grams(200.0), resin);
            EXPECT_NEAR(two.resin->value(), 2.0 * one.resin->value(), 1e-9);
            EXPECT_NEAR(two.resin_volume->value(), 2.0 * one.resin_volume->value(), 1e-9);
            EXPECT_NEAR(two.hardener->value(), 2.0 * one.hardener->value(), 1e-9);
            EXPECT_NEAR(two.hardener_volume->value(), 2.0 * one.hardener_volume->value(), 1e-9);
            // And each part's mass is its volume by its density.
            EXPECT_NEAR(one.resin->value(), one.resin_volume->value() * 1.12, 1e-9);
            EXPECT_NEAR(one.hardener->value(), one.hardener_volume->value() * 0.97, 1e-9);
        }
}

TEST(MixtureDensity, IsMassByVolumeOfBothParts) {
    // By hand: 2 mL of 1.12 and 1 mL of 0.97 weigh 3.21 g in 3 mL.
    job::Resin resin;
    resin.kind = job::ResinKind::epoxy;
    resin.hardener_basis = job::Basis::volume;
    resin.hardener_parts = {2.0, 1.0};
    resin.density = GramsPerMillilitre(1.12);
    resin.hardener_density = GramsPerMillilitre(0.97);
    EXPECT_NEAR(mixture_density(resin).value(), 1.07, 1e-12);
    resin.hardener_density.reset();
    EXPECT_EQ(mixture_density(resin).value(), 1.10) << "SOURCES.md section 10: to size by volume";
}

}  // namespace
}  // namespace tearline::quantities

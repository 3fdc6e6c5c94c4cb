#include "core/laminate/scarf_check.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/job/fabric_catalogue.h"
#include "core/laminate/compare.h"
#include "core/laminate/ply_thickness.h"

namespace tearline::laminate {
namespace {

TEST(ScarfWidth, PublishedCases) {
    // SOURCES.md section 1, published owner guides: 0.44 in skin at 12:1 is a 5.28 in scarf, round
    // a 3/4 in hole an 11.31 in circle; 0.31 in is 3.72 in; a gouge 1/4 in deep and 1 in across is
    // a 7 in circle.
    EXPECT_NEAR(scarf_width(12.0, 0.44), 5.28, 1e-12);
    EXPECT_NEAR(0.75 + 2.0 * scarf_width(12.0, 0.44), 11.31, 1e-12);
    EXPECT_NEAR(scarf_width(12.0, 0.31), 3.72, 1e-12);
    EXPECT_NEAR(1.0 + 2.0 * scarf_width(12.0, 0.25), 7.0, 1e-12);
    // The worked job of the same section: 100 mm hole, 8 mm deep: outer radius 196 mm.
    EXPECT_NEAR(100.0 + scarf_width(12.0, 8.0), 196.0, 1e-12);
}

TEST(RequiredRatio, BringsTheShearToTheAllowedOne) {
    // Second route: at R the even shear sigma R/(1 + R^2) times the factor is the bond's strength.
    for (const double sigma : {40.0, 85.0, 182.0})
        for (const double tau : {4.0, 8.0, 17.0}) {
            const double ratio = required_ratio(sigma, tau, 1.5);
            EXPECT_NEAR(1.5 * sigma * ratio / (1.0 + ratio * ratio), tau, 1e-9);
        }
    // By hand: k = 1.5 x 85/8 = 15.9375; R = (15.9375 + sqrt(250.0039))/2 = 15.8745.
    EXPECT_NEAR(required_ratio(85.0, 8.0, 1.5), 15.8745, 5e-5);
}

TEST(RequiredRatio, AStrongBondBearsItAtAnyRatio) {
    // By hand: the shear is never more than sigma/2, at 45 degrees.
    EXPECT_EQ(required_ratio(20.0, 10.0, 1.0), 1.0);
    EXPECT_EQ(required_ratio(20.0, 40.0, 1.0), 1.0);
    EXPECT_NEAR(required_ratio(20.0, 9.999, 1.0), 1.0, 0.02);
}

job::Job plain_job() {
    job::Job job;
    job.fabrics = job::built_in_fabrics();
    job.damage.depth = 4.0;
    return job;
}
const std::vector<job::StackEntry> four_mats(4, job::StackEntry{"mat 450", 0.0, 0.0});

TEST(ScarfCheck, StressesFollowFromTheChosenRatio) {
    // By hand, 85 MPa at 12:1: shear 85 x 12/145 = 7.03 MPa, peel 85/145 = 0.586 MPa, 1/12 of it.
    job::Job job = plain_job();
    job.scarf.bond_shear = 8.0;
    const ScarfCheck found = check_scarf(layers_of(four_mats, job), job);
    EXPECT_EQ(found.strength_of, "the patch");
    EXPECT_NEAR(found.laminate_strength, 85.0, 1e-9);
    EXPECT_NEAR(found.bond_stress, 85.0 * 12.0 / 145.0, 1e-9);
    EXPECT_NEAR(found.peel_stress, 85.0 / 145.0, 1e-9);
    EXPECT_NEAR(found.peel_share, 1.0 / 12.0, 1e-12);
    EXPECT_NEAR(found.required_ratio.value(), 15.8745, 5e-5);
    EXPECT_NE(found.verdict.find("too short"), std::string::npos);
    job.scarf.ratio = 16.0;
    EXPECT_EQ(check_scarf(layers_of(four_mats, job), job).verdict.find("too short"),
              std::string::npos);
}

TEST(ScarfCheck, OldLaminateIsWhatMustBeBorne) {
    job::Job job = plain_job();
    job.old_laminate = job::OldLaminate{};
    job.old_laminate->thickness = 4.0;
    job.old_laminate->kind = job::FabricKind::woven;
    const ScarfCheck found = check_scarf(layers_of(four_mats, job), job);
    EXPECT_EQ(found.strength_of, "the old laminate");
    EXPECT_NEAR(found.laminate_strength, 182.0, 1e-9);
}

TEST(ScarfCheck, NoBondStrengthIsAssumed) {
    const ScarfCheck found = check_scarf(layers_of(four_mats, plain_job()), plain_job());
    EXPECT_FALSE(found.required_ratio);
    EXPECT_NE(found.verdict.find("the shear strength of the bond is not given"), std::string::npos);
    EXPECT_NE(std::string(scarf_check_words()).find("not a design"), std::string::npos);
}

}  // namespace
}  // namespace tearline::laminate

#include "core/laminate/compare.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/job/fabric_catalogue.h"
#include "core/laminate/ply_thickness.h"

namespace tearline::laminate {
namespace {

job::Job job_with_old(double thickness, job::FabricKind kind, double depth) {
    job::Job job;
    job.fabrics = job::built_in_fabrics();
    job.damage.depth = depth;
    job.old_laminate = job::OldLaminate{};
    job.old_laminate->thickness = thickness;
    job.old_laminate->kind = kind;
    return job;
}

std::vector<job::StackEntry> plies(const std::string& fabric, int count) {
    return std::vector<job::StackEntry>(static_cast<std::size_t>(count),
                                        job::StackEntry{fabric, 0.0, 0.0});
}

const double mat_450 = 1.05078125;  // [mm] SOURCES.md section 2

TEST(Compare, LikeForLikeIsOne) {
    const job::Job job = job_with_old(8 * mat_450, job::FabricKind::mat, 8 * mat_450);
    const Comparison found = compare(plies("mat 450", 8), job);
    ASSERT_TRUE(found.ratios);
    EXPECT_NEAR(found.ratios->membrane_stiffness, 1.0, 1e-9);
    EXPECT_NEAR(found.ratios->bending_stiffness, 1.0, 1e-9);
    EXPECT_NEAR(found.ratios->membrane_strength(), 1.0, 1e-9);
    EXPECT_NEAR(found.ratios->bending_strength, 1.0, 1e-9);
    EXPECT_FALSE(found.weaker);
    EXPECT_FALSE(found.much_stiffer);
    EXPECT_NE(found.verdict.find("about as strong"), std::string::npos);
}

TEST(Compare, ThinnerMatIsWeakerByTheSquareAndTheCube) {
    // By hand: 6 of 8 plies: 0.75 in the plane, 0.75^2 of the bending strength, 0.75^3 of the
    // bending stiffness.
    const job::Job job = job_with_old(8 * mat_450, job::FabricKind::mat, 8 * mat_450);
    const Comparison found = compare(plies("mat 450", 6), job);
    EXPECT_NEAR(found.ratios->membrane_strength(), 0.75, 1e-9);
    EXPECT_NEAR(found.ratios->bending_strength, 0.5625, 1e-9);
    EXPECT_NEAR(found.ratios->bending_stiffness, 0.421875, 1e-9);
    EXPECT_TRUE(found.weaker);
    EXPECT_NE(found.verdict.find("weaker than what was there in its plane and in bending: 56 % of "
                                 "the strength at the least, 42 % of the bending stiffness"),
              std::string::npos)
        << found.verdict;
}

TEST(Compare, RovingForMatIsMuchStiffer) {
    // By hand: 13900 x 8 against 6400 x 8: 217 %.
    job::Job job = job_with_old(8.0, job::FabricKind::mat, 8.0);
    job.fabrics.at("roving 600").thickness = 1.0;
    const Comparison found = compare(plies("roving 600", 8), job);
    EXPECT_NEAR(found.ratios->membrane_stiffness, 13900.0 / 6400.0, 1e-9);
    EXPECT_TRUE(found.much_stiffer);
    EXPECT_FALSE(found.weaker);
    EXPECT_NE(found.verdict.find("much stiffer"), std::string::npos);
}

TEST(Compare, WhatTheDishLeavesCountsWithThePatch) {
    // By hand: 10 mm of mat, 4 ground out and 4 laid: the same plate again.
    job::Job job = job_with_old(10.0, job::FabricKind::mat, 4.0);
    job.fabrics.at("mat 450").thickness = 1.0;
    const Comparison found = compare(plies("mat 450", 4), job);
    EXPECT_NEAR(found.floor_mm, 6.0, 1e-12);
    EXPECT_NEAR(found.patch.thickness, 10.0, 1e-12);
    EXPECT_NEAR(found.ratios->bending_stiffness, 1.0, 1e-9);
}

TEST(Compare, WhatIsSandedOffCarriesNothing) {
    // By hand, mats of 1 mm in mat: six are laid and one of them a cover, 1.5 mm is sanded off. 4.5
    // mm of 5 mm stay: 0.9 in the plane, 0.9^2 and 0.9^3 in bending.
    job::Job job = job_with_old(5.0, job::FabricKind::mat, 5.0);
    job.fabrics.at("mat 450").thickness = 1.0;
    const Comparison found = compare(plies("mat 450", 6), job, 4.5);
    EXPECT_NEAR(found.kept_mm, 4.5, 1e-12);
    EXPECT_NEAR(found.sanded_off_mm, 1.5, 1e-12);
    EXPECT_NEAR(found.patch.thickness, 4.5, 1e-12);
    EXPECT_NEAR(found.ratios->membrane_stiffness, 0.9, 1e-9);
    EXPECT_NEAR(found.ratios->bending_strength, 0.81, 1e-9);
    EXPECT_NEAR(found.ratios->bending_stiffness, 0.729, 1e-9);
    EXPECT_TRUE(found.weaker);
    EXPECT_NE(found.verdict.find("once it is sanded fair, topcoat not counted, is weaker"),
              std::string::npos)
        << found.verdict;
    EXPECT_NEAR(compare(plies("mat 450", 6), job).ratios->membrane_stiffness, 1.2, 1e-9);
}

TEST(Compare, ARovingIsSandedIntoFromItsOuterFace) {
    // Lamination theory by hand: mat of 3 mm (E 6400, nu 0.30) under a roving of 1 mm (E 13900, nu
    // 0.17) of which 0.6 mm stay, over a floor of 2 mm of the same mat. Bent one way: with Q = E/(1
    // - nu^2) and Q' = nu Q, B and D about the middle; the membrane by A alone.
    job::Job job = job_with_old(6.0, job::FabricKind::mat, 4.0);
    job.fabrics.at("mat 450").thickness = 1.0;
    job.fabrics.at("roving 600").thickness = 1.0;
    auto stack = plies("mat 450", 3);
    stack.push_back({"roving 600", 0, 0});
    const Comparison found = compare(stack, job, 3.6);
    EXPECT_NEAR(found.floor_mm, 2.0, 1e-12);
    const double q = 6400.0 / (1 - 0.09), r = 13900.0 / (1 - 0.0289);
    const double a11 = 5.0 * q + 0.6 * r, a12 = 0.3 * 5.0 * q + 0.17 * 0.6 * r;
    EXPECT_NEAR(found.patch.along.membrane_stiffness, a11 - a12 * a12 / a11, 1e-6 * a11);
    // Two layers from -2.8 to 2.2 and from 2.2 to 2.8 mm of the middle.
    const auto moments = [&](double mat_q, double roving_q, int power) {
        const auto part = [&](double low, double high) {
            return (std::pow(high, power + 1) - std::pow(low, power + 1)) / (power + 1);
        };
        return mat_q * part(-2.8, 2.2) + roving_q * part(2.2, 2.8);
    };
    // In the even and the odd of x and y: an isotropic pair of 2 x 2 matrices is two numbers.
    const auto bent = [&](double sign) {
        const double m = q * (1 + sign * 0.3), w = r * (1 + sign * 0.17);
        const double b = moments(m, w, 1);
        return moments(m, w, 2) - b * b / moments(m, w, 0);
    };
    const double even = bent(1.0), odd = bent(-1.0);
    // D11 = (even + odd)/2, D12 = (even - odd)/2; 1/(D^-1)11 = D11 - D12^2/D11.
    const double d11 = 0.5 * (even + odd), d12 = 0.5 * (even - odd);
    EXPECT_NEAR(found.patch.along.bending_stiffness, d11 - d12 * d12 / d11, 1e-6 * d11);
}

TEST(Compare, SaysInTheSameSentenceWhatTheScarfDoes) {
    job::Job job = job_with_old(8 * mat_450, job::FabricKind::mat, 8 * mat_450);
    const auto verdict = [&] { return compare(plies("mat 450", 8), job).verdict; };
    const auto first_sentence = [](const std::string& text) {
        return text.substr(0, text.find(". "));
    };
    EXPECT_NE(first_sentence(verdict()).find("is not known, since no bond strength is given"),
              std::string::npos)
        << verdict();
    // By hand: 1.5 x 85/8 asks for 15.9 : 1 (RequiredRatio's own test).
    job.scarf.bond_shear = 8.0;
    EXPECT_NE(first_sentence(verdict()).find("but the scarf of 12 : 1 is too short"),
              std::string::npos);
    EXPECT_NE(verdict().find("it needs 15.9 : 1"), std::string::npos) << verdict();
    job.scarf.ratio = 16.0;
    EXPECT_NE(verdict().find("the scarf of 16 : 1 carries what the old laminate bore."),
              std::string::npos)
        << verdict();
    // A patch that is too weak: its figures, the worst among them, what helps, then the bond. Six
    // plies of eight are (6/8)^3 = 42 % as stiff in bending, by hand.
    const std::string weak = compare(plies("mat 450", 6), job).verdict;
    EXPECT_NE(weak.find("42 % of the bending stiffness: add plies"), std::string::npos) << weak;
    EXPECT_LT(weak.find("add plies"), weak.find("carries what the old laminate bore"));
    job.scarf.ratio = 12.0;
    EXPECT_NE(compare(plies("mat 450", 6), job).verdict.find("; and the scarf of 12 : 1 is too"),
              std::string::npos);
}

TEST(Compare, FloorOfAStackIsItsFarSide) {
    job::Job job = job_with_old(1.0, job::FabricKind::mat, 2.5);
    job.fabrics.at("mat 450").thickness = 1.0;
    job.fabrics.at("roving 600").thickness = 1.0;
    job.old_laminate = job::OldLaminate{};
    job.old_laminate->stack = {
        {"roving 600", 0, 0}, {"mat 450", 0, 0}, {"mat 450", 0, 0}, {"mat 450", 0, 0}};
    const Layers floor = lowest(old_layers(job), 1.5);
    ASSERT_EQ(floor.size(), 2u);
    EXPECT_NEAR(floor[0].lamina.e1, 13900.0, 1e-6);
    EXPECT_NEAR(floor[1].thickness, 0.5, 1e-12);
}

TEST(Compare, WithoutAnOldLaminateThereIsNothingToCompare) {
    job::Job job;
    job.fabrics = job::built_in_fabrics();
    job.damage.depth = 4.0;
    const Comparison found = compare(plies("mat 450", 4), job);
    EXPECT_FALSE(found.ratios);
    EXPECT_FALSE(found.verdict.empty());
    EXPECT_NEAR(found.patch.along.membrane_stiffness, 4 * mat_450 * 6400.0, 1e-6);
}

TEST(Compare, SourcesAreShownOnceForEachCloth) {
    const job::Job job = job_with_old(4.0, job::FabricKind::biaxial, 4.0);
    auto stack = plies("mat 450", 3);
    stack.push_back({"roving 600", 0, 0});
    const Comparison found = compare(stack, job);
    ASSERT_EQ(found.sources.size(), 3u);
    EXPECT_EQ(found.sources[0], "mat 450: ISO 12215-5 formulas, from memory");
    EXPECT_NE(found.sources[2].find("turned by 45 degrees"), std::string::npos);
}

TEST(Compare, MatIsNeverTurnedAndBiaxialByFortyFiveMore) {
    job::Job job;
    job.fabrics = job::built_in_fabrics();
    const Layers layers =
        layers_of({{"mat 450", 30, 0}, {"roving 600", 30, 0}, {"biaxial 600", 30, 0}}, job);
    EXPECT_EQ(layers[0].angle_degrees, 0.0);
    EXPECT_EQ(layers[1].angle_degrees, 30.0);
    EXPECT_EQ(layers[2].angle_degrees, 75.0);
    EXPECT_DOUBLE_EQ(layers[0].thickness, mat_450);
}

TEST(Aim, StiffnessAndStrengthWantDifferentPlyCounts) {
    // By hand: 8 mm of woven roving in mat of 1 mm: strength in the plane 182 x 8/85 = 17.1 mm;
    // stiffness 13900 x 8/6400 = 17.4 mm, bending less: 18 plies each. Compression asks 144 x
    // 8/117 = 9.8 mm only.
    job::Job job = job_with_old(8.0, job::FabricKind::woven, 8.0);
    job.fabrics.at("mat 450").thickness = 1.0;
    job.layup.fill_to = job::FillTo::stiffness;
    EXPECT_FALSE(reaches_aim(plies("mat 450", 17), job));
    EXPECT_TRUE(reaches_aim(plies("mat 450", 18), job));
    job.layup.fill_to = job::FillTo::strength;
    EXPECT_FALSE(reaches_aim(plies("mat 450", 17), job));
    EXPECT_TRUE(reaches_aim(plies("mat 450", 18), job));
    // The other way round: 8 mm of mat in roving of 1 mm: 85 x 8/182 = 3.7 mm in tension, but 117 x
    // 8/144 = 6.5 mm in compression and sqrt(152/223) x 8 = 6.6 mm in bending; stiffness 3.7 mm in
    // the plane and (6400/13900)^(1/3) x 8 = 6.2 mm in bending.
    job = job_with_old(8.0, job::FabricKind::mat, 8.0);
    job.fabrics.at("roving 600").thickness = 1.0;
    job.layup.fill_to = job::FillTo::strength;
    EXPECT_FALSE(reaches_aim(plies("roving 600", 6), job));
    EXPECT_TRUE(reaches_aim(plies("roving 600", 7), job));
}

}  // namespace
}  // namespace tearline::laminate

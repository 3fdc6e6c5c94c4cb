#include "core/plan/check_laminate.h"

#include <gtest/gtest.h>

#include "core/job/fabric_catalogue.h"
#include "core/warnings/warning.h"

namespace tearline::plan {
namespace {

/// Plies of mat of 1 mm, the last ones covers, with what stays of them.
struct Laid {
    plies::PlyLevels levels;
    job::Job job;
    double kept = 0.0, built = 0.0;
    LaminateCheck found;

    Laid(int stack, int covers, double stays) : kept(stays) {
        job.fabrics = job::built_in_fabrics();
        job.fabrics.at("mat 450").thickness = 1.0;
        job.damage.depth = 4.0;
        job.layup.fill = {{"mat 450", 0, 0}};
        job.old_laminate = job::OldLaminate{};
        job.old_laminate->thickness = 6.0;
        job.old_laminate->kind = job::FabricKind::mat;
        for (int i = 0; i < stack + covers; ++i) {
            plies::PlyLevel ply;
            ply.number = i + 1;
            ply.entry = {"mat 450", 0, 0};
            ply.cover = i >= stack;
            ply.thickness = 1.0;
            levels.plies.push_back(ply);
        }
    }
    void check() { found = check_laminate(levels, job, kept, built); }
    [[nodiscard]] std::string warned() const {
        std::string codes;
        for (const Warning& warning : found.warnings) codes += std::string(warning.code()) + " ";
        return codes;
    }
};

TEST(CheckLaminate, ComparesWhatStaysOverTheFloorThatIsLeft) {
    // By hand: 4 of 6 mm are ground out and 4 stay of six plies: the same plate again.
    Laid laid(4, 2, 4.0);
    laid.check();
    ASSERT_TRUE(laid.found.comparison);
    EXPECT_NEAR(laid.found.comparison->kept_mm, 4.0, 1e-12);
    EXPECT_NEAR(laid.found.comparison->sanded_off_mm, 2.0, 1e-12);
    EXPECT_NEAR(laid.found.comparison->ratios->bending_stiffness, 1.0, 1e-9);
    EXPECT_EQ(laid.warned(), "");
}

TEST(CheckLaminate, CoversThatLieBelowTheSurfaceStay) {
    // By hand: two plies and two covers in 4 mm: all of them stay.
    Laid laid(2, 2, 4.0);
    laid.check();
    EXPECT_NEAR(laid.found.comparison->ratios->membrane_strength(), 1.0, 1e-9);
}

TEST(CheckLaminate, WarnsOfAPatchThatSandingLeavesTooThin) {
    // By hand: a topcoat of 0.6 mm stays on: 3.4 + 2 of 6 mm, 0.9 in the plane, 0.81 in bending.
    Laid laid(4, 2, 3.4);
    laid.check();
    EXPECT_NEAR(laid.found.comparison->ratios->bending_strength, 0.81, 1e-9);
    EXPECT_EQ(laid.warned(), "patch-weaker ");
    EXPECT_EQ(laid.found.warnings.front().words().told, laid.found.comparison->verdict);
}

TEST(CheckLaminate, WarnsOfAScarfThatIsTooShort) {
    Laid laid(4, 0, 4.0);
    laid.job.scarf.bond_shear = 8.0;  // asks for 15.9 : 1 of mat of 85 MPa
    laid.check();
    EXPECT_EQ(laid.warned(), "scarf-short ");
    laid.job.scarf.ratio = 16.0;
    laid.check();
    EXPECT_EQ(laid.warned(), "");
}

TEST(CheckLaminate, WarnsOfAPatchMuchStiffer) {
    // By hand: rovings for mat, (2 x 6400 + 4 x 13900)/(6 x 6400) = 1.8 in the plane.
    Laid laid(4, 0, 4.0);
    laid.job.fabrics.at("roving 600").thickness = 1.0;
    for (plies::PlyLevel& ply : laid.levels.plies) ply.entry.fabric = "roving 600";
    laid.check();
    EXPECT_EQ(laid.warned(), "patch-stiffer ");
}

TEST(CheckLaminate, HalfWayCountsWhatIsLaidAlready) {
    // Two mats lie already; two are left of the plan, 2 mm of them stay: 2 + 2 + 2 of 6 mm.
    // However thick the two came out: what stays is counted over the floor, 1.8 + 2 mm.
    Laid laid(2, 0, 3.8);
    laid.job.after_ply = 2;
    laid.built = 1.8;
    laid.check();
    EXPECT_NEAR(laid.found.comparison->ratios->bending_stiffness, 1.0, 1e-9);
    EXPECT_NEAR(laid.found.comparison->kept_mm, 4.0, 1e-12);
}

TEST(CheckLaminate, WarnsOfADishDeeperThanTheOldLaminateWasThick) {
    Laid laid(6, 0, 6.0);
    laid.job.damage.depth = 6.0;  // right through 6 mm, and no deeper
    laid.check();
    EXPECT_EQ(laid.warned().find("depth-over-old-laminate"), std::string::npos);
    laid.job.damage.depth = 6.1;
    laid.check();
    ASSERT_NE(laid.warned().find("depth-over-old-laminate"), std::string::npos);
    const Warning& warning = laid.found.warnings.front();
    EXPECT_EQ(warning.rank(), WarningRank::stop);
    EXPECT_NE(warning.words().told.find("damage.depth 6.1 mm"), std::string::npos);
    EXPECT_NE(warning.words().told.find("old_laminate.thickness 6 mm"), std::string::npos);
}

TEST(CheckLaminate, SaysNothingOfNoPlies) {
    Laid laid(0, 0, 0.0);
    laid.check();
    EXPECT_FALSE(laid.found.comparison);
    EXPECT_FALSE(laid.found.scarf);
}

}  // namespace
}  // namespace tearline::plan

#include "core/boat/tell.h"

#include <gtest/gtest.h>

#include "core/boat/boat.h"

namespace tearline::boat::tell_test {
namespace {

Repair place(const std::string& name, const Warnings& warnings) {
    Repair repair;
    repair.name = name;
    repair.plan = Plan();
    repair.plan->warnings = warnings;
    return repair;
}

const Warning thin{.cause = warn::FloorThin{8.0, 9.0}};
const Warning thinner{.cause = warn::FloorThin{8.5, 9.0}};

std::vector<ToldOf> told(const std::vector<Repair>& repairs) {
    std::vector<ToldOf> all;
    add_warnings_of(repairs, all);
    return all;
}

using Names = std::vector<std::string>;

TEST(WarningsOfABoat, InTheSameWordsAreToldOnceWithTheirPlaces) {
    const auto all = told({place("a", {thin}), place("b", {thin}), place("c", {thin})});
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all[0].repairs, (Names{"a", "b", "c"}));
    EXPECT_EQ(all[0].code, "floor-thin");
    EXPECT_EQ(all[0].rank, WarningRank::act);
}

TEST(WarningsOfABoat, OfOtherFiguresPliesAndPointsStayApart) {
    Warning of_ply = thin, of_point = thin;
    of_ply.ply = 2;
    of_point.at = Vec3(1, 2, 3);
    EXPECT_EQ(told({place("a", {thin}), place("b", {thinner})}).size(), 2u);
    EXPECT_EQ(told({place("a", {of_ply}), place("b", {of_ply})}).size(), 2u);
    EXPECT_EQ(told({place("a", {of_point}), place("b", {of_point})}).size(), 2u);
    EXPECT_EQ(told({place("a", {thin, thin})}).size(), 2u) << "one place says each by itself";
}

TEST(WarningsOfABoat, APlaceThatIsRefusedSaysOnlyThat) {
    Repair refused = place("a", {thin});
    refused.plan.reset();
    refused.refused = "no room";
    EXPECT_TRUE(told({refused}).empty());
    const ToldOf why = repair_refused(refused);
    EXPECT_EQ(why.rank, WarningRank::stop);
    EXPECT_TRUE(why.words.told.ends_with("no room"));
    EXPECT_EQ(why.repairs, Names{"a"});
}

TEST(WarningsOfABoat, OfARemnantSayWhyNothingIsCutFromIt) {
    layout::CutRemnant remnant;
    remnant.name = "offcut";
    remnant.fabric = "mat 450";
    const std::string wanted = remnant_not_used(remnant, true).words.told;
    const std::string unwanted = remnant_not_used(remnant, false).words.told;
    EXPECT_NE(wanted.find("no piece has room"), std::string::npos) << wanted;
    EXPECT_NE(unwanted.find("no place lays that cloth"), std::string::npos) << unwanted;
}

TEST(Boat, KnowsItsPlannedPlacesAndNamesPiecesByThem) {
    Boat boat;
    boat.repairs = {place("R1", {}), place("R2", {})};
    boat.repairs[0].plan.reset();
    boat.repairs[1].plan->job.title = "the second";
    EXPECT_EQ(boat.planned(), 1u);
    EXPECT_EQ(boat.any().job.title, "the second");
    EXPECT_EQ(piece_name("R1", "1A"), "R1-1A");
    boat.repairs[1].plan.reset();
    EXPECT_THROW((void)boat.any(), std::logic_error);
}

TEST(ToldOf, KeepsWhereAWarningStands) {
    Warning warning{.cause = warn::ShearNearLimit{"roving 600", 31.0, 40.0}};
    warning.ply = 2;
    warning.piece = "2B";
    warning.at = Vec3(1, 2, 3);
    const ToldOf told = told_of(warning, {"a", "b"});
    EXPECT_EQ(told.code, "shear-near-limit");
    EXPECT_EQ(told.rank, WarningRank::act);
    EXPECT_EQ(told.repairs, (Names{"a", "b"}));
    EXPECT_EQ(told.ply, 2);
    EXPECT_EQ(told.piece, "2B");
    EXPECT_EQ(told.at, Vec3(1, 2, 3));
    EXPECT_NE(told.words.told.find("31"), std::string::npos);
}

TEST(FootprintsMeet, SayWhichIsLaidFirst) {
    const ToldOf told = footprints_meet("R1", "R2");
    EXPECT_NE(told.words.told.find("lay R2 when the covers of R1 have cured"), std::string::npos);
    EXPECT_EQ(told.words.metric.find("[[repair]]"), std::string::npos) << "no key on a sheet";
    EXPECT_EQ(told.rank, WarningRank::act);
}

/// A place with one cup of so much resin, too large for its pot: it is warned of.
Repair heating(double resin_g, int boat_cup) {
    Repair repair = place("a", {thin});
    job::Job& job = repair.plan->job;
    job.resin.hardener_percent = 1.25;
    job.resin.gel_minutes = Minutes(25.0);
    job.resin.gel_at = job::GelAt{Celsius(20.0), 1.25, Grams(100.0)};
    quantities::Stage stage;
    quantities::Cup cup;
    cup.resin_g = cup.mix_resin_g = resin_g;
    cup.hardener_g = cup.mix_hardener_g = 0.0125 * resin_g;
    cup.use_within_min = 15.0;
    stage.cups = {cup};
    stage.boat_cup = boat_cup;
    repair.plan->quantities.stages = {stage};
    return repair;
}

std::string codes_of(const Warnings& warnings) {
    std::string codes;
    for (const Warning& warning : warnings) codes += std::string(warning.code()) + " ";
    return codes;
}

TEST(CupsAnew, AreWarnedOfAsTheyAreNowAndNothingElseChanges) {
    // A cup of 2 kg is far over the mass that its gel time was taken at; once it is the boat's, the
    // place says nothing of it, and what else it warns of stands.
    Repair own = heating(2000.0, 0), shared = heating(2000.0, 3);
    for (Repair* repair : {&own, &shared}) {
        repair->plan->warnings.push_back({.cause = warn::CupOverGelMass{}});
        warn_of_cups_anew(*repair->plan);
    }
    EXPECT_EQ(codes_of(shared.plan->warnings), "floor-thin ");
    const std::string codes = codes_of(own.plan->warnings);
    EXPECT_TRUE(codes.starts_with("floor-thin ")) << codes;
    EXPECT_NE(codes.find("cup-over-gel-mass"), std::string::npos) << codes;
}

TEST(SharedCupWarnings, AreOfTheBoatAndOfCupsAlone) {
    const Repair repair = heating(2000.0, 0);
    SharedCup cup;
    cup.cup = repair.plan->quantities.stages[0].cups[0];
    EXPECT_TRUE(shared_cup_warnings(repair.plan->job, {}).empty());
    const auto told = shared_cup_warnings(repair.plan->job, {cup});
    ASSERT_FALSE(told.empty());
    bool over = false;
    for (const ToldOf& each : told) {
        EXPECT_TRUE(each.repairs.empty());
        over = over || each.code == "cup-over-gel-mass";
    }
    EXPECT_TRUE(over);
}

}  // namespace
}  // namespace tearline::boat::tell_test

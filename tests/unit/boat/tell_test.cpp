#include "core/boat/tell.h"

#include <gtest/gtest.h>

#include "core/boat/boat.h"

namespace tearline::boat {
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

}  // namespace
}  // namespace tearline::boat

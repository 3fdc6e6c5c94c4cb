#include "core/boat/boat_json.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/unit/boat/small_boat.h"

namespace tearline::boat {
namespace {

using Json = nlohmann::json;

Boat three_places() {
    Boat boat =
        boat_of({flat_repair("R1"), refused_repair("R2", "no room \"there\""), flat_repair("R3")});
    boat.repairs[2].plan->quantities.totals.glass_g = 77.5;
    boat.job.repairs[2].job.layup.copies = 4;
    return boat;
}

Json read(const Boat& boat) {
    return Json::parse(boat_json(boat));
}

TEST(BoatJson, SaysOfEveryPlaceWhetherItIsPlanned) {
    const Json json = read(three_places());
    EXPECT_EQ(json["schema"], "tearline-boat/1");
    EXPECT_EQ(json["job"]["title"], "Curlew refit");
    EXPECT_EQ(json["job"]["model"], "flat-panel.step") << "the file's name alone";
    EXPECT_EQ(json["job"]["model_sha256"], std::string(64, '0'));
    EXPECT_EQ(json["job"]["allow_overlap"], false);
    const Json& repairs = json["repairs"];
    ASSERT_EQ(repairs.size(), 3u);
    EXPECT_EQ(repairs[0]["name"], "R1");
    EXPECT_EQ(repairs[0]["status"], "planned");
    EXPECT_EQ(repairs[0]["plan"], "R1/plan.json");
    EXPECT_TRUE(repairs[0]["refusal"].is_null());
    EXPECT_EQ(repairs[0]["copies"], 1);
    EXPECT_EQ(repairs[1]["status"], "refused");
    EXPECT_EQ(repairs[1]["refusal"], "no room \"there\"");
    EXPECT_EQ(repairs[1]["title"], "Curlew refit · R2: by the stem");
    EXPECT_TRUE(repairs[1]["plan"].is_null() && repairs[1]["totals"].is_null());
    EXPECT_EQ(repairs[2]["copies"], 4);
    EXPECT_EQ(repairs[2]["totals"]["glass_g"], 77.5) << "of one copy, its own";
}

TEST(BoatJson, CountsStagesFromOneAndNamesASharedCupOnceAGo) {
    Boat boat = three_places();
    auto& stages = boat.repairs[2].plan->quantities.stages;
    stages[0].boat_cup = stages[1].boat_cup = 7;  // primed and laid from one
    stages[2].boat_cup = 8;
    boat.rounds = {{{{2, {0, 1}, 12.5}, {0, {0, 1}, 3.0}}, false}, {{{2, {2}, 4.0}}, true}};
    const Json order = read(boat)["order"];
    ASSERT_EQ(order.size(), 2u);
    EXPECT_EQ(order[0]["after_cure"], false);
    EXPECT_EQ(order[1]["after_cure"], true);
    const Json& go = order[0]["goes"][0];
    EXPECT_EQ(go["repair"], "R3");
    EXPECT_EQ(go["stages"], Json({1, 2}));
    EXPECT_EQ(go["plies"], Json({1, 2}));
    EXPECT_EQ(go["shared_cups"], Json({7}));
    EXPECT_EQ(go["minutes"], 12.5);
    EXPECT_EQ(order[0]["goes"][1]["repair"], "R1");
    EXPECT_EQ(order[0]["goes"][1]["shared_cups"], Json::array());
    EXPECT_EQ(order[1]["goes"][0]["stages"], Json({3}));
    EXPECT_EQ(order[1]["goes"][0]["shared_cups"], Json({8}));
}

TEST(BoatJson, TellsWhoTakesHowMuchOfACup) {
    Boat boat = three_places();
    SharedCup cup;
    cup.number = 2;
    cup.cup.resin_g = 130.0;
    cup.takes = {{2, 1, 90.0, 0.04}, {0, 0, 40.0, 0.02}};
    boat.cups = {cup};
    const Json cups = read(boat)["cups"];
    ASSERT_EQ(cups.size(), 1u);
    EXPECT_EQ(cups[0]["number"], 2);
    EXPECT_EQ(cups[0]["cup"]["resin_g"], 130.0);
    const Json& takes = cups[0]["takes"];
    ASSERT_EQ(takes.size(), 2u);
    EXPECT_EQ(takes[0],
              Json({{"repair", "R3"}, {"stage", 2}, {"resin_g", 90.0}, {"area_m2", 0.04}}));
    EXPECT_EQ(takes[1],
              Json({{"repair", "R1"}, {"stage", 1}, {"resin_g", 40.0}, {"area_m2", 0.02}}));
}

TEST(BoatJson, KeepsEachTotalUnderItsOwnName) {
    Boat boat = three_places();
    Totals& t = boat.totals;
    t.glass_area_m2 = 1.5;
    t.glass_g = 2.5;
    t.resin_g = 3.5;
    t.hardener_g = 4.5;
    t.topcoat_g = 6.5;
    t.ground_area_m2 = 8.5;
    t.prime_g = 9.5;
    t.fairing_mL = 10.5;
    EXPECT_EQ(read(boat)["totals"], Json({{"glass_area_m2", 1.5},
                                          {"glass_g", 2.5},
                                          {"resin_g", 3.5},
                                          {"hardener_g", 4.5},
                                          {"hardener_mL", nullptr},
                                          {"topcoat_g", 6.5},
                                          {"topcoat_hardener_g", nullptr},
                                          {"ground_area_m2", 8.5},
                                          {"prime_g", 9.5},
                                          {"fairing_mL", 10.5}}));
}

TEST(BoatJson, KeepsRollsAndRemnantsWithWhatLiesOnThem) {
    Boat boat = three_places();
    layout::Roll roll;
    roll.fabric = "mat 450";
    roll.width_mm = 1250.0;
    roll.length_mm = 640.0;
    roll.used_fraction = 0.75;
    roll.area_bound_mm = 480.0;
    roll.gap_mm = 6.0;
    roll.placed = {{"R1-1A", 10.0, 20.0, 90.0}};
    layout::CutRemnant remnant;
    remnant.name = "left of the blue roll";
    remnant.fabric = "roving 600";
    remnant.outline = {{0, 0}, {400, 0}, {400, 300}};
    remnant.keep_off = {{{1, 2}, {3, 4}, {5, 6}}};
    remnant.used_fraction = 0.25;
    boat.nest.rolls = {roll};
    boat.nest.remnants = {remnant};
    const Json json = read(boat);
    EXPECT_EQ(
        json["rolls"][0],
        Json({{"fabric", "mat 450"},
              {"width_mm", 1250.0},
              {"length_mm", 640.0},
              {"used_fraction", 0.75},
              {"area_bound_mm", 480.0},
              {"gap_mm", 6.0},
              {"placed",
               Json::array(
                   {{{"piece", "R1-1A"}, {"x_mm", 10.0}, {"y_mm", 20.0}, {"turn_deg", 90.0}}})}}));
    const Json& kept = json["remnants"][0];
    EXPECT_EQ(kept["name"], "left of the blue roll");
    EXPECT_EQ(kept["outline"], Json({{0, 0}, {400, 0}, {400, 300}}));
    EXPECT_EQ(kept["keep_off"], Json::array({{{1, 2}, {3, 4}, {5, 6}}}));
    EXPECT_EQ(kept["used_fraction"], 0.25);
    EXPECT_EQ(kept["placed"], Json::array());
}

TEST(BoatJson, TellsWarningsWithTheirPlacesInKeysAndPlainly) {
    Boat boat = three_places();
    ToldOf told{
        "a-code", WarningRank::act, "see " + plainly("damage.depth", "the depth"), {"R1", "R3"}};
    told.ply = 2;
    told.piece = "2A";
    told.at = Vec3(1, 2, 3);
    boat.warnings = {told, {"of-the-boat", WarningRank::stop, "all of it", {}}};
    const Json warnings = read(boat)["warnings"];
    ASSERT_EQ(warnings.size(), 2u);
    EXPECT_EQ(warnings[0], Json({{"code", "a-code"},
                                 {"rank", "do"},
                                 {"repairs", {"R1", "R3"}},
                                 {"message", "see damage.depth"},
                                 {"plain", "see the depth"},
                                 {"ply", 2},
                                 {"piece", "2A"},
                                 {"at", {1, 2, 3}}}));
    EXPECT_EQ(warnings[1]["rank"], "stop");
    EXPECT_EQ(warnings[1]["repairs"], Json::array());
    EXPECT_TRUE(warnings[1]["ply"].is_null() && warnings[1]["at"].is_null());
}

TEST(BoatJson, WithPlansHoldsThoseThatArePlanned) {
    const Boat boat = three_places();
    Json with = Json::parse(boat_json_with_plans(boat));
    ASSERT_EQ(with["plans"].size(), 2u);
    EXPECT_EQ(with["plans"][0]["name"], "R1");
    EXPECT_EQ(with["plans"][1]["name"], "R3");
    EXPECT_EQ(with["plans"][1]["plan"]["totals"]["glass_g"], 77.5);
    with.erase("plans");
    EXPECT_EQ(with, read(boat)) << "all else is the same";
}

}  // namespace
}  // namespace tearline::boat

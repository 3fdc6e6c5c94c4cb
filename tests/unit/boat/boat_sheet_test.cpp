#include "core/boat/boat_sheet.h"

#include <gtest/gtest.h>

#include <regex>

#include "tests/support/words_in.h"
#include "tests/unit/boat/small_boat.h"

namespace tearline::boat {
namespace {

using test::count;
using test::says;

/// What a person reads: the page without its marks, a bar between cells.
std::string read(const std::string& page) {
    std::string text = std::regex_replace(page, std::regex("</t[dh]>"), "|");
    text = std::regex_replace(text, std::regex("<svg[^]*?</svg>"), "");
    return std::regex_replace(text, std::regex("<[^>]*>"), "");
}

/// What stands under a heading, up to the next.
std::string under(const std::string& page, const std::string& heading) {
    const auto from = page.find("<h2>" + heading + "</h2>");
    if (from == std::string::npos) return "";
    return page.substr(from, page.find("<h2", from + 4) - from);
}

Boat two_places() {
    Boat boat = boat_of({flat_repair("R1"), flat_repair("R2")});
    for (const std::size_t i : {0u, 1u}) {
        boat.repairs[i].plan->quantities.totals.glass_g = 200.0 * (i + 1.0);
        boat.repairs[i].plan->quantities.totals.resin_g = 300.0 * (i + 1.0);
    }
    boat.totals.glass_g = 1400.0;
    boat.totals.resin_g = 1500.0;
    return boat;
}

TEST(BoatSheet, ListsPlacesWithTheirOwnWordsAndTheSumOfAll) {
    Boat boat = two_places();
    boat.repairs[1].plan->job.layup.copies = 3;
    boat.repairs.push_back(refused_repair("R3", "the ground of R3 < R4"));
    boat.job.repairs.push_back({"R3", {}});
    const std::string table = under(boat_sheet(boat), "Places"), text = read(table);
    EXPECT_TRUE(says(text, "R1|below the rail|3|1|200 g")) << text;
    EXPECT_TRUE(says(text, "R2|below the rail|3|3|400 g")) << text;
    EXPECT_TRUE(says(text, "R3||NOT PLANNED, nothing of it is cut: the ground of R3 &lt; R4|"));
    EXPECT_TRUE(says(text, "All|every copy|||1400 g"));
    EXPECT_TRUE(says(table, "href=\"R1/job-sheet.html\""));
    EXPECT_FALSE(says(table, "R3/job-sheet.html"));
}

TEST(BoatSheet, TellsGoByGoWhatIsLaidAndHowLongItTakes) {
    Boat boat = two_places();
    boat.rounds = {{{{0, {0, 1}, 40.0}, {1, {0, 1}, 50.0}}, false}, {{{1, {2}, 18.0}}, true}};
    const std::string text = read(under(boat_sheet(boat), "Order of work"));
    EXPECT_TRUE(says(text, "Go 1: 90 min, 1.5 h|")) << text;
    EXPECT_TRUE(says(text, "|R1|ground primed, plies 1 to 2||40|"));
    EXPECT_TRUE(says(text, "|R2|ground primed, plies 1 to 2||50|"));
    EXPECT_TRUE(says(text, "|R2|ply 3||18|"));
    EXPECT_TRUE(says(text,
                     "Go 2 when the part before it has cured, 48 h at least, and what its "
                     "own sheet asks for in between is done: 18 min, 0.3 h|"))
        << text;
    // What both are followed by is said once; after its last stage a place waits for its own sheet.
    EXPECT_EQ(count(text, "Then, where more follows: Wait to tack.|"), 1u);
    EXPECT_EQ(count(text, "Then, where more follows"), 1u);
}

TEST(BoatSheet, NamesWhatClosesAHoleAndItsPart) {
    Boat boat = boat_of({flat_repair("R1")});
    auto& stages = boat.repairs[0].plan->quantities.stages;
    using Of = quantities::Stage::Of;
    const auto add = [&](Of of, const std::string& part) {
        quantities::Stage stage;
        stage.of = of;
        stage.part = part;
        stages.push_back(stage);
    };
    for (auto& stage : stages) stage.part = "from <inside>";
    add(Of::release, "mould");
    add(Of::gel_coat, "gel coat");
    add(Of::backing, "backing");
    add(Of::core, "core");
    boat.rounds = {{{{0, {0, 1}, 1.0}, {0, {3, 4}, 1.0}, {0, {5}, 1.0}, {0, {6}, 1.0}}, false}};
    const std::string text = read(under(boat_sheet(boat), "Order of work"));
    EXPECT_TRUE(says(text, "|from &lt;inside&gt;: ground primed, plies 1 to 2|")) << text;
    EXPECT_TRUE(says(text, "|release agent on the mould, gel coat on the mould|"));
    EXPECT_TRUE(says(text, "|backing laid and bonded|"));
    EXPECT_TRUE(says(text, "|core sealed|"));
}

TEST(BoatSheet, NamesSharedCupsAndCountsThoseOfThePlacesOwn) {
    Boat boat = two_places();
    auto& stages = boat.repairs[0].plan->quantities.stages;
    stages[0].boat_cup = stages[1].boat_cup = 4;
    stages[0].cups.resize(1);
    stages[1].cups.resize(1);
    stages[2].cups.resize(3);
    boat.rounds = {{{{0, {0, 1}, 1.0}, {0, {2}, 1.0}, {0, {1, 2}, 1.0}}, false}};
    const std::string text = read(under(boat_sheet(boat), "Order of work"));
    EXPECT_TRUE(says(text, "plies 1 to 2|cup 4|1|")) << text;
    EXPECT_TRUE(says(text, "ply 3|3 on its own sheet|1|"));
    EXPECT_TRUE(says(text, "ply 3|cup 4, 3 on its own sheet|1|"));
}

TEST(BoatSheet, SaysOfASharedCupWhoTakesHowMuchInWhichOrder) {
    Boat boat = two_places();
    for (Repair& repair : boat.repairs) {
        job::Job& job = repair.plan->job;
        job.resin.gel_minutes = Minutes(25.0);
        job.resin.gel_at = job::GelAt{};
        job.laminator.use_fraction = 0.6;
    }
    SharedCup cup;
    cup.number = 1;
    cup.cup.resin_g = 150.0;
    cup.cup.mix_resin_g = 150.0;
    cup.takes = {{1, 0, 20.0, 0.02}, {1, 1, 90.0, 0.03}, {0, 2, 40.0, 0.03}};
    boat.cups = {cup};
    const std::string text = read(under(boat_sheet(boat), "Cups that several places take of"));
    const auto at = [&](const char* words) { return text.find(words); };
    EXPECT_TRUE(says(text, "Cup 1, in this order: R2 ground 20.0 g")) << text;
    EXPECT_NE(at("R2 plies 1 to 2 90.0 g"), std::string::npos);
    EXPECT_LT(at("R2 plies 1 to 2 90.0 g"), at("R1 ply 3 40.0 g"));
    // By hand: 0.6 of 25 minutes.
    EXPECT_TRUE(says(text, "within 15 min of mixing"));
    boat.cups.clear();
    EXPECT_EQ(under(boat_sheet(boat), "Cups that several places take of"), "");
}

TEST(BoatSheet, TellsRemnantsUsedOrNot) {
    Boat boat = two_places();
    layout::CutRemnant used, unused;
    used.name = "the <blue> one";
    used.fabric = unused.fabric = "mat 450";
    used.outline = unused.outline = {{0, 0}, {400, 0}, {400, 300}, {0, 300}};
    used.used_fraction = 0.417;
    used.placed = {{"R1-1A", 200, 150, 0}};
    unused.name = "the other";
    boat.nest.remnants = {used, unused};
    const std::string section = under(boat_sheet(boat), "Cut from these remnants first");
    EXPECT_TRUE(says(read(section), "the &lt;blue&gt; one, mat 450, its face up: 42 % used, 5 mm"))
        << read(section);
    EXPECT_TRUE(says(read(section), "the other, mat 450: nothing is cut from it"));
    EXPECT_EQ(count(section, "<svg"), 1u);
}

TEST(BoatSheet, WarnsByRankWithPlacesPliesAndPieces) {
    Boat boat = two_places();
    ToldOf know{"k", WarningRank::know, "know it", {}};
    ToldOf act{"d", WarningRank::act, "do it", {"R1", "R2"}};
    ToldOf stop{"s", WarningRank::stop, plainly("a.key", "decide it"), {"R2"}};
    act.ply = 2;
    stop.ply = 1;
    stop.piece = "1A";
    boat.warnings = {know, act, stop};
    const std::string page = boat_sheet(boat);
    const std::string section = under(page, "What the plans warn of"), text = read(section);
    EXPECT_TRUE(says(text, "R2 piece 1A: decide it")) << text;
    EXPECT_TRUE(says(text, "R1, R2 ply 2: do it"));
    EXPECT_LT(text.find("decide it"), text.find("do it"));
    EXPECT_LT(text.find("do it"), text.find("know it"));
    EXPECT_FALSE(says(text, "a.key"));
    // What is only to be known has no box to tick.
    const auto last = section.find("<li", section.find("do it"));
    EXPECT_FALSE(says(section.substr(last), "<svg"));
    // The head counts them and bears the mark of the worst.
    EXPECT_TRUE(says(page, "Warned of for this boat: <b>3</b>"));
    EXPECT_TRUE(says(page, "class=\"warning rank-stop\">Warned of"));
    boat.warnings = {know};
    EXPECT_TRUE(says(boat_sheet(boat), "class=\"warning rank-know\">Warned of"));
    boat.warnings.clear();
    EXPECT_FALSE(says(boat_sheet(boat), "Warned of for this boat"));
}

TEST(AsOnePlan, HoldsEveryPieceUnderTheNameThatItHasAmongAll) {
    Boat boat = boat_of({flat_repair("R1"), refused_repair("R2", "no"), flat_repair("R3")});
    boat.repairs[0].plan->job.layup.copies = 5;
    boat.repairs[2].plan->plies.pop_back();
    boat.shopping.currency = "EUR";
    const Plan all = as_one_plan(boat);
    std::string names;
    for (const templates::LaidPly& ply : all.plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            names += std::to_string(ply.number) + ply.fabric.front() + " " + piece.piece.id + ", ";
    EXPECT_EQ(names, "1m R1-1A, 2r R1-2A, 3m R1-3A, 1m R3-1A, 2r R3-2A, ");
    EXPECT_EQ(all.job.title, "Curlew refit");
    EXPECT_EQ(all.job.layup.copies, 1) << "copies are in the rolls already";
    EXPECT_EQ(all.shopping.currency, "EUR");
    EXPECT_EQ(all.plies[4].kind, job::FabricKind::woven);
    EXPECT_GT(all.plies[4].pieces[0].outline.net.outer.size(), 3u);
}

}  // namespace
}  // namespace tearline::boat

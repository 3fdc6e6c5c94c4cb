#include "core/boat/boat_picture.h"

#include <gtest/gtest.h>

#include <regex>

#include "tests/support/words_in.h"
#include "tests/unit/boat/small_boat.h"

namespace tearline::boat {
namespace {

using test::count;
using test::says;

/// A place whose glass is laid from where `normal` points.
Repair facing(const std::string& name, const Vec3& normal, job::Side side = job::Side::outside) {
    Repair repair = flat_repair(name);
    repair.plan->place.frame.normal = normal;
    repair.plan->job.damage.side = side;
    return repair;
}

struct Word {
    double x, y, size;
    std::string text;
};

std::vector<Word> words_of(const std::string& svg) {
    const std::regex text(
        R"re(<text x="([^"]+)" y="([^"]+)" font-size="([^"]+)"[^>]*>([^<]*)</text>)re");
    std::vector<Word> words;
    for (std::sregex_iterator i(svg.begin(), svg.end(), text), end; i != end; ++i)
        words.push_back({std::stod((*i)[1]), std::stod((*i)[2]), std::stod((*i)[3]), (*i)[4]});
    return words;
}

const Word* word(const std::vector<Word>& words, const std::string& text) {
    for (const Word& each : words)
        if (each.text == text) return &each;
    return nullptr;
}

/// The frames that views are drawn in.
std::vector<plane::Box> frames_of(const std::string& svg) {
    const std::regex rect(
        R"re(<rect x="([^"]+)" y="([^"]+)" width="([^"]+)" height="([^"]+)" rx="2")re");
    std::vector<plane::Box> frames;
    for (std::sregex_iterator i(svg.begin(), svg.end(), rect), end; i != end; ++i) {
        const Vec2 low(std::stod((*i)[1]), std::stod((*i)[2]));
        frames.push_back({low, low + Vec2(std::stod((*i)[3]), std::stod((*i)[4]))});
    }
    return frames;
}

const plane::Box window{{10, 20}, {210, 120}};

TEST(ViewsOfBoat, AreFromTheSidesThatPlacesFace) {
    // Bow is x and up is z: starboard is -y, by the right hand. Each leans a little.
    const std::vector<std::pair<Vec3, const char*>> ways{
        {{0.2, -1, 0.3}, "From starboard"}, {{0.2, 1, 0.3}, "From port"},
        {{0.2, 0.3, -1}, "From below"},     {{0.2, 0.3, 1}, "From above"},
        {{1, 0.3, 0.2}, "From ahead"},      {{-1, 0.3, 0.2}, "From astern"}};
    for (const auto& [normal, words] : ways) {
        const std::string svg = views_of_boat(boat_of({facing("R1", normal.normalized())}), window);
        EXPECT_TRUE(says(svg, words)) << words;
        EXPECT_EQ(frames_of(svg).size(), 1u) << words;
    }
}

TEST(ViewsOfBoat, ShowAPlaceLaidFromInsideThroughTheHull) {
    // Its own normal points inboard, to port: it is seen from starboard, where the damage is.
    const std::string svg =
        views_of_boat(boat_of({facing("R1", {0, 1, 0}, job::Side::inside)}), window);
    EXPECT_TRUE(says(svg, "From starboard"));
    EXPECT_TRUE(says(svg, "R1 (inside)"));
    EXPECT_TRUE(says(svg, "stroke-dasharray"));
    EXPECT_FALSE(says(views_of_boat(boat_of({facing("R1", {0, -1, 0})}), window), "dasharray"));
}

TEST(ViewsOfBoat, LieSideBySideInTheWindow) {
    // By hand: up to two one over the other, then two columns, 4 mm between all.
    const auto frames_for = [](std::vector<Repair> repairs) {
        return frames_of(views_of_boat(boat_of(std::move(repairs)), window));
    };
    const auto two = frames_for({facing("a", {0, -1, 0}), facing("b", {0, 1, 0})});
    ASSERT_EQ(two.size(), 2u);
    EXPECT_NEAR(two[0].size().x(), 200.0, 1e-9);
    EXPECT_NEAR(two[0].size().y(), 48.0, 1e-9);
    EXPECT_NEAR(two[1].low.y() - two[0].high.y(), 4.0, 1e-9);
    const auto three =
        frames_for({facing("a", {0, -1, 0}), facing("b", {0, 1, 0}), facing("c", {0, 0, -1})});
    ASSERT_EQ(three.size(), 3u);
    EXPECT_NEAR(three[0].size().x(), 98.0, 1e-9);
    EXPECT_NEAR(three[1].low.x() - three[0].high.x(), 4.0, 1e-9);
    EXPECT_NEAR(three[1].low.y(), three[0].low.y(), 1e-9);
    EXPECT_NEAR(three[2].low.y() - three[0].high.y(), 4.0, 1e-9);
    EXPECT_NEAR(three[2].low.x(), window.low.x(), 1e-9);
    EXPECT_NEAR(three[2].high.y(), window.high.y(), 1e-9);
}

TEST(ViewsOfBoat, HaveBowToTheRightFromStarboardAndToTheLeftFromPort) {
    // Common practice of a profile: two places 400 mm apart along the hull.
    for (const double side : {-1.0, 1.0}) {
        Repair aft = facing("aft", {0, side, 0}), forward = facing("fwd", {0, side, 0});
        forward.plan->place.frame.middle += Vec3(400, 0, 0);
        const auto words = words_of(views_of_boat(boat_of({aft, forward}), window));
        const Word *a = word(words, "aft"), *f = word(words, "fwd");
        ASSERT_TRUE(a && f);
        EXPECT_GT(-side * (f->x - a->x), 5.0) << side;
        EXPECT_NEAR(f->y, a->y, 1e-3);
    }
}

TEST(ViewsOfBoat, HaveUpAbove) {
    Repair low = facing("low", {0, -1, 0}), high = facing("high", {0, -1, 0});
    high.plan->place.frame.middle += Vec3(0, 0, 300);
    const auto words = words_of(views_of_boat(boat_of({low, high}), window));
    EXPECT_LT(word(words, "high")->y, word(words, "low")->y - 5.0);
}

TEST(ViewsOfBoat, LeaveNoNameOnAnother) {
    // Four places whose middles lie within a millimetre: letters are 4 mm high.
    std::vector<Repair> repairs;
    for (int i = 0; i < 4; ++i) {
        repairs.push_back(facing("place " + std::to_string(i), {0, -1, 0}));
        repairs.back().plan->place.frame.middle += Vec3(1.0 * i, 0, 0);
    }
    std::vector<double> at;
    for (const Word& each : words_of(views_of_boat(boat_of(std::move(repairs)), window)))
        if (each.text.starts_with("place")) at.push_back(each.y);
    ASSERT_EQ(at.size(), 4u);
    std::sort(at.begin(), at.end());
    for (std::size_t i = 1; i < at.size(); ++i) EXPECT_GE(at[i] - at[i - 1], 4.0 - 1e-9);
}

TEST(BoatOverview, TellsEachPlaceWithItsPliesPiecesAndAmounts) {
    Boat boat = boat_of({flat_repair("R1"), refused_repair("R2", "no room"), flat_repair("R3")});
    for (const std::size_t i : {0u, 2u}) {
        boat.repairs[i].plan->quantities.totals.glass_g = 100.0 * (i + 1.0);
        boat.repairs[i].plan->quantities.totals.resin_g = 1000.0 * (i + 1.0);
    }
    boat.repairs[2].plan->job.layup.copies = 4;
    boat.repairs[2].plan->plies[0].pieces.push_back(boat.repairs[2].plan->plies[0].pieces[0]);
    boat.totals.glass_g = 1300.0;
    boat.totals.resin_g = 13000.0;
    const std::string svg = boat_overview(boat);
    EXPECT_TRUE(says(svg, "2 of 3 places planned  ·  glass 1300 g  ·  resin 13000 g"));
    EXPECT_TRUE(says(svg, ">3 plies, 3 pieces, glass 100 g, resin 1000 g<"));
    EXPECT_TRUE(says(svg, ">3 plies, 4 pieces, glass 300 g, resin 3000 g, make 4<"));
    EXPECT_EQ(count(svg, "NOT PLANNED"), 1u);
}

TEST(BoatOverview, TellsOuncesWhereSheetsDo) {
    // NIST Handbook 44, appendix C: an ounce avoirdupois is 28.349523125 g.
    Boat boat = boat_of({flat_repair("R1")});
    boat.repairs[0].plan->job.display_units = Units::us;
    boat.totals.glass_g = 283.49523125;
    EXPECT_TRUE(says(boat_overview(boat), "glass 10.0 oz wt"));
}

TEST(BoatOverview, KeepsItsTitleToTheLastLetter) {
    // Whatever alphabet: only a title that is too long for the sheet may lose letters.
    for (const char* title : {"Curlew, café", "Чайка", "Curlew"}) {
        Boat boat = boat_of({flat_repair("R1")});
        boat.job.title = title;
        EXPECT_TRUE(word(words_of(boat_overview(boat)), title)) << title;
    }
}

TEST(BoatOverview, CutsATitleThatIsTooLongBetweenLetters) {
    Boat boat = boat_of({flat_repair("R1")});
    for (int i = 0; i < 100; ++i) boat.job.title += "é";
    const auto words = words_of(boat_overview(boat));
    const auto title = std::max_element(
        words.begin(), words.end(), [](auto& a, auto& b) { return a.text.size() < b.text.size(); });
    EXPECT_TRUE(title->text.starts_with("Curlew refitéé"));
    EXPECT_LT(title->text.size(), 150u);
    EXPECT_EQ(title->text.find("\xEF\xBF\xBD"), std::string::npos) << "half a letter";
    EXPECT_LT(title->size, 9.0) << "in smaller letters";
}

TEST(BoatOverview, SaysHowManyPlacesHaveNoRoomOnIt) {
    std::vector<Repair> repairs{flat_repair("R0")};
    for (int i = 1; i < 24; ++i) repairs.push_back(refused_repair("R" + std::to_string(i), "no"));
    const std::string svg = boat_overview(boat_of(std::move(repairs)));
    // By hand: rows every 12 mm from 40 to 277 mm are 20.
    EXPECT_TRUE(says(svg, "and 4 more: see the job sheet"));
    EXPECT_TRUE(says(svg, ">R19<"));
    EXPECT_FALSE(says(svg, ">R20<"));
    for (const Word& each : words_of(svg)) EXPECT_LT(each.y, 297.0);
}

/// Corners of the path that is filled so.
std::vector<std::vector<Vec2>> paths_of(const std::string& svg, const std::string& fill) {
    const std::regex path("<path fill=\"" + fill + "\"[^>]* d=\"([^\"]*)\"");
    const std::regex number(R"re([ML](-?[\d.]+) (-?[\d.]+))re");
    std::vector<std::vector<Vec2>> paths;
    for (std::sregex_iterator i(svg.begin(), svg.end(), path), end; i != end; ++i) {
        const std::string data = (*i)[1];
        paths.emplace_back();
        for (std::sregex_iterator p(data.begin(), data.end(), number); p != end; ++p)
            paths.back().emplace_back(std::stod((*p)[1]), std::stod((*p)[2]));
    }
    return paths;
}

TEST(RemnantPicture, ShowsPiecesWhereTheyAreCut) {
    Boat boat = boat_of({flat_repair("R1")});
    // A piece of 30 by 20 mm from its datum, turned a quarter and set at (200, 50).
    boat.repairs[0].plan->plies[1].pieces[0].outline = {};
    boat.repairs[0].plan->plies[1].pieces[0].outline.net.outer = {
        {0, 0}, {30, 0}, {30, 20}, {0, 20}};
    layout::CutRemnant remnant;
    remnant.outline = {{100, 0}, {436, 0}, {436, 100}, {100, 100}};
    remnant.keep_off = {{{100, 0}, {120, 0}, {120, 10}, {100, 10}}};
    remnant.placed = {{"R1-2A", 200, 50, 90}, {"R1-9Z", 0, 0, 0}};
    const std::string svg = remnant_picture(boat, remnant);
    // By hand: 336 mm are shown as 168, half; y runs down from the top edge, 100 mm.
    EXPECT_TRUE(says(svg, "width=\"169mm\" height=\"51mm\"")) << svg.substr(0, 200);
    const auto pieces = paths_of(svg, "#cfe0ea");
    ASSERT_EQ(pieces.size(), 1u) << "one that no plan has is not drawn";
    const std::vector<Vec2> expected{{50, 25}, {50, 10}, {40, 10}, {40, 25}};
    ASSERT_EQ(pieces[0].size(), 4u);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_LT((pieces[0][i] - expected[i]).norm(), 0.011) << i;
    const auto off = paths_of(svg, "#e3b7ab");
    ASSERT_EQ(off.size(), 1u);
    EXPECT_LT((off[0][0] - Vec2(0, 50)).norm(), 0.011);
    EXPECT_LT((off[0][2] - Vec2(10, 45)).norm(), 0.011);
    const auto words = words_of(svg);
    const Word* name = word(words, "R1-2A");
    ASSERT_TRUE(name);
    EXPECT_NEAR(name->x, 45.0, 0.01);
    EXPECT_LT(name->y, 25.0);
    EXPECT_GT(name->y, 10.0);
    EXPECT_LE(0.62 * name->size * 5, 10.0 + 1e-3) << "no wider than the piece";
}

TEST(RemnantPicture, OfATallOneIsSixtyMillimetresHigh) {
    layout::CutRemnant remnant;
    remnant.outline = {{0, 0}, {100, 0}, {100, 600}, {0, 600}};
    const std::string svg = remnant_picture(boat_of({flat_repair("R1")}), remnant);
    EXPECT_TRUE(says(svg, "width=\"11mm\" height=\"61mm\""));
}

}  // namespace
}  // namespace tearline::boat

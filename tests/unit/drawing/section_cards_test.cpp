#include "core/drawing/section_cards.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <string>

#include "tests/unit/drawing/shapes.h"

namespace tearline::drawing {
namespace {

using templates::TemplateSet;

TemplateSet card_set(const templates::Section& section, const templates::GrindGuide& guide) {
    TemplateSet set;
    set.sections = {section};
    set.guide = guide;
    return set;
}

TEST(SectionCards, ShowDepthsAndTheScarfsEndAndNothingOfCovers) {
    // By hand: of rings with 2 mm, 0.3 mm and no depth, the scarf's edge, a cover's ring and the
    // gel coat's line, a level card shows the first two and the scarf's edge, at both sides.
    templates::GrindGuide guide;
    guide.rings = {{{circle(20)}, "", 2.0, 1}, {{circle(40)}, "", 0.3, 2},
                   {{circle(60)}, "", 0.0, 3}, {{circle(60)}, "", 0.0, -1},
                   {{circle(90)}, "", 0.0, 4}, {{circle(99)}, "", 0.0, -2}};
    const templates::Section level{"along", {{-120, 0}, {120, 0}}, 0.0, {"aft", "bow"}};
    std::map<std::string, std::vector<double>> found;
    for (const Drawing::Text& text : section_cards(card_set(level, guide)).texts)
        if (is_upwards(text)) found[text.text].push_back(std::abs((text.base + 0.5 * text.up).x()));
    ASSERT_EQ(found.size(), 3u);
    for (const auto& [text, at] :
         std::map<std::string, double>{{"2.0", 20.0}, {"0.3", 40.0}, {"END", 60.0}}) {
        ASSERT_EQ(found[text].size(), 2u) << text;
        for (const double x : found[text]) EXPECT_NEAR(x, at, 0.1);
    }
}

/// A card's tick with the line to its figure.
bool is_tick(const Drawing::Line& line) {
    return !line.closed && line.points.size() == 3 && line.points[0].x() == line.points[1].x();
}

TEST(SectionCards, EachTickOfASectionCardHasItsFigureInTheOrderOfTheTicks) {
    // By hand: five depths and the scarf's end at each side, 3.2 mm apart, closer than figures.
    templates::GrindGuide guide;
    const std::vector<double> depths = {1.3, 1.0, 0.7, 0.5, 0.2};
    for (std::size_t i = 0; i < depths.size(); ++i)
        guide.rings.push_back({{circle(40.0 + 3.2 * double(i))}, "", depths[i], int(i)});
    guide.rings.push_back({{circle(56.0)}, "", 0.0, -1});
    const templates::Section level{"along", {{-120, 0}, {120, 0}}, 0.0, {"aft", "bow"}};
    const Drawing drawing = section_cards(card_set(level, guide));
    std::vector<std::pair<double, std::string>> figures;
    std::vector<double> ends;
    for (const Drawing::Text& text : drawing.texts) {
        if (!is_upwards(text)) continue;
        figures.emplace_back((text.base + 0.5 * text.up).x(), text.text);
        for (const Drawing::Line& line : drawing.lines)
            EXPECT_FALSE(runs_through(line.points, line.closed, text)) << text.text;
        for (const Drawing::Text& other : drawing.texts)
            EXPECT_TRUE(&other == &text || !runs_through(corners(box_of(other)), true, text))
                << text.text << " and " << other.text;
    }
    for (const Drawing::Line& line : drawing.lines)
        if (is_tick(line)) ends.push_back(line.points[2].x());
    std::sort(figures.begin(), figures.end());
    std::sort(ends.begin(), ends.end());
    const std::vector<std::string> order = {"END", "0.2", "0.5", "0.7", "1.0", "1.3",
                                            "1.3", "1.0", "0.7", "0.5", "0.2", "END"};
    ASSERT_EQ(figures.size(), order.size());
    ASSERT_EQ(ends.size(), order.size());
    for (std::size_t i = 0; i < order.size(); ++i) {
        EXPECT_EQ(figures[i].second, order[i]);
        EXPECT_NEAR(figures[i].first, ends[i], 1e-9);
    }
}

TEST(SectionCards, ACardTooShortDropsTicksWithTheirFiguresAndSaysSo) {
    // By hand: 31 rings 0.5 mm apart at each side of a card of 60 mm, which holds 13 figures.
    templates::GrindGuide guide;
    for (int i = 0; i < 30; ++i)
        guide.rings.push_back({{circle(10.0 + 0.5 * i)}, "", 3.0 - 0.1 * i, i});
    guide.rings.push_back({{circle(25.0)}, "", 0.0, -1});
    const templates::Section level{"along", {{-30, 0}, {30, 0}}, 0.0, {"aft", "bow"}};
    const Drawing drawing = section_cards(card_set(level, guide));
    std::size_t figures = 0, ends = 0, ticks = 0;
    bool told = false;
    for (const Drawing::Text& text : drawing.texts) {
        figures += is_upwards(text) ? 1 : 0;
        ends += text.text == "END" ? 1 : 0;
        told = told || text.text.find("have no room") != std::string::npos;
    }
    for (const Drawing::Line& line : drawing.lines) ticks += is_tick(line) ? 1 : 0;
    EXPECT_EQ(ticks, figures);
    EXPECT_EQ(figures, 13u);
    EXPECT_EQ(ends, 2u);
    EXPECT_TRUE(told);
}

/// Where the ticks of a card stand along it.
std::vector<double> ticks_of(const Drawing& drawing) {
    std::vector<double> at;
    for (const Drawing::Line& line : drawing.lines)
        if (is_tick(line)) at.push_back(line.points[0].x());
    std::sort(at.begin(), at.end());
    return at;
}

TEST(SectionCards, MeasureAlongTheHullAndNotAcrossThePaper) {
    // By hand: a hull that is level to port and rises by 45 degrees to starboard; 60 mm along it
    // are 60 mm of paper on one side and 60 / sqrt(2) on the other.
    templates::GrindGuide guide;
    guide.rings = {{{circle(60)}, "", 1.5, 1}};
    const templates::Section bent{"across", {{-100, 0}, {0, 0}, {50, 50}, {100, 100}}, 0.0, {}};
    const auto ticks = ticks_of(section_cards(card_set(bent, guide)));
    ASSERT_EQ(ticks.size(), 2u);
    EXPECT_NEAR(ticks[0], -60.0, 0.05);
    EXPECT_NEAR(ticks[1], 60.0 / std::sqrt(2.0), 0.05);
}

TEST(SectionCards, OfASectionUpTheHullTakeWhatLiesAboveAndBelowTheDatum) {
    // A ring about a place 10 mm above the datum: 70 mm up, 50 mm down, and 59.2 to both sides.
    templates::GrindGuide guide;
    guide.rings = {{{circle(60, {0, 10})}, "", 1.5, 1}};
    templates::Section level{"across", {{-100, 0}, {100, 0}}, 90.0, {}};
    auto ticks = ticks_of(section_cards(card_set(level, guide)));
    ASSERT_EQ(ticks.size(), 2u);
    EXPECT_NEAR(ticks[0], -50.0, 0.05);
    EXPECT_NEAR(ticks[1], 70.0, 0.05);
    level.angle_degrees = 0.0;
    ticks = ticks_of(section_cards(card_set(level, guide)));
    ASSERT_EQ(ticks.size(), 2u);
    EXPECT_NEAR(ticks[1], std::sqrt(60.0 * 60.0 - 10.0 * 10.0), 0.05);
    EXPECT_NEAR(ticks[0], -ticks[1], 0.05);
}

TEST(SectionCards, LeaveOutWhatLiesBeyondTheHullsEnd) {
    // A card that ends 30 mm to one side has the ring of 60 mm on the other side alone.
    templates::GrindGuide guide;
    guide.rings = {{{circle(60)}, "", 1.5, 1}};
    const templates::Section half{"along", {{-100, 0}, {30, 0}}, 0.0, {}};
    const auto ticks = ticks_of(section_cards(card_set(half, guide)));
    ASSERT_EQ(ticks.size(), 1u);
    EXPECT_NEAR(ticks[0], -60.0, 0.05);
}

TEST(SectionCards, SayDepthsInThousandthsOfAnInch) {
    // As the guide does and the sheet's rule has it: 2.0 mm / 25.4 = 0.0787 in, 3.5 mm = 0.1378 in,
    // which in thirty-seconds would be 1/8, a third of a millimetre less.
    templates::GrindGuide guide;
    guide.rings = {{{circle(60)}, "", 2.0, 1}, {{circle(30)}, "", 3.5, 2}};
    TemplateSet set = card_set({"along", {{-120, 0}, {120, 0}}, 0.0, {}}, guide);
    set.units = Units::us;
    int figures = 0, deep = 0;
    bool unit = false;
    for (const Drawing::Text& text : section_cards(set).texts) {
        figures += text.text == "0.079" ? 1 : 0;
        deep += text.text == "0.138" ? 1 : 0;
        unit = unit || text.text.find("below the edge, in;") != std::string::npos;
    }
    EXPECT_EQ(figures, 2);
    EXPECT_EQ(deep, 2);
    EXPECT_TRUE(unit);
}

TEST(SectionCards, StandOneUnderTheOtherWithTheirDatumsInOneLine) {
    TemplateSet set = card_set({"along", {{-120, 5}, {120, -30}}, 0.0, {"aft", "bow"}}, {});
    set.sections.push_back({"across", {{-80, 0}, {0, 20}, {200, 0}}, 90.0, {"keel", "rail"}});
    set.sections.push_back({std::string(150, 'W'), {{-40, 0}, {40, 0}}, 0.0, {}});
    const Drawing drawing = section_cards(set);
    std::vector<plane::Box> cards;
    std::vector<double> datums;
    for (const Drawing::Line& line : drawing.lines) {
        if (line.role == Role::cut) cards.push_back(plane::box_round(line.points));
        if (line.role == Role::datum) datums.push_back(line.points[0].x());
    }
    ASSERT_EQ(cards.size(), 3u);
    for (std::size_t i = 1; i < cards.size(); ++i)
        EXPECT_LT(cards[i].high.y(), cards[i - 1].low.y()) << "each is cut out of the sheet";
    EXPECT_EQ(datums, (std::vector<double>{0.0, 0.0, 0.0}));
    // Whatever a section is called, its words stand on a card.
    for (const Drawing::Text& text : drawing.texts) {
        const TextBox box = box_of(text);
        EXPECT_TRUE(std::any_of(cards.begin(), cards.end(), [&](const plane::Box& card) {
            return card.low.x() <= box.middle.x() - box.along.x() &&
                   card.high.x() >= box.middle.x() + box.along.x() &&
                   card.low.y() <= box.middle.y() && card.high.y() >= box.middle.y();
        })) << text.text;
    }
}

TEST(SectionCards, PointOutwardsToWhatEachEndSays) {
    const Drawing drawing =
        section_cards(card_set({"along", {{-120, 0}, {120, 0}}, 0.0, {"aft", "bow"}}, {}));
    std::map<std::string, double> words;
    for (const Drawing::Text& text : drawing.texts) words[text.text] = text.base.x();
    ASSERT_TRUE(words.contains("AFT") && words.contains("BOW"));
    int arrows = 0;
    for (const Drawing::Line& line : drawing.lines) {
        if (line.role != Role::arrow || line.points.size() != 2) continue;
        ++arrows;
        const double tail = line.points[0].x(), tip = line.points[1].x();
        EXPECT_GT(std::abs(tip), std::abs(tail));
        const double said = tip > 0.0 ? words["BOW"] : words["AFT"];
        EXPECT_GT(said * tip, 0.0) << "on its own half";
        EXPECT_LT(std::abs(said), std::abs(tail)) << "behind its arrow, off the card's rim";
    }
    EXPECT_EQ(arrows, 2);
}

TEST(SectionCards, OfABackingReachToItsOwnBaseLine) {
    templates::Section card{"station 3", {{-80, -10}, {0, -25}, {80, -10}}, 90.0, {}};
    card.back = 0.0;
    TemplateSet set = card_set(card, {});
    set.part = "stations";
    const Drawing drawing = section_cards(set);
    EXPECT_EQ(drawing.name, "section cards stations");
    const plane::Box box = plane::box_round(drawing.lines.front().points);
    EXPECT_DOUBLE_EQ(box.high.y() - box.low.y(), 25.0) << "from the base line to its deepest point";
    bool named = false;
    for (const Drawing::Text& text : drawing.texts)
        named = named || text.text == "SECTION station 3: curved edge on the hull";
    EXPECT_TRUE(named) << "by its own name, not the part's too";
}

}  // namespace
}  // namespace tearline::drawing

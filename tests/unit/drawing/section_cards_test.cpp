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

}  // namespace
}  // namespace tearline::drawing

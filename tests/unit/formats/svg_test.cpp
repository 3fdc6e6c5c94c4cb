#include "core/formats/svg.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <random>

#include "core/formats/svg_template.h"

namespace tearline::formats {
namespace {

/// The value of an attribute at its first place after some words.
std::string attribute(const std::string& text, const std::string& after, const std::string& name) {
    const auto from = text.find(" " + name + "=\"", text.find(after)) + name.size() + 3;
    return text.substr(from, text.find('"', from) - from);
}

TEST(SvgEscapes, MakeTextOfMarkup) {
    EXPECT_EQ(escaped("Räucherei & <Söhne> \"6 m\""),
              "Räucherei &amp; &lt;Söhne&gt; &quot;6 m&quot;");
    EXPECT_EQ(escaped("a\x01"
                      "b\n"),
              "a b ");
}

TEST(SvgNumber, HasNoDigitThatSaysNothing) {
    // By hand: four decimals at most, no zeros at the end, never "-0".
    EXPECT_EQ(svg_number(12.0), "12");
    EXPECT_EQ(svg_number(12.5), "12.5");
    EXPECT_EQ(svg_number(0.00004), "0");
    EXPECT_EQ(svg_number(-0.00004), "0");
    EXPECT_EQ(svg_number(1.00006), "1.0001");
    EXPECT_EQ(svg_number(100.0), "100") << "zeros before the point stay";
}

TEST(SvgNumber, IsTrueToHalfOfItsLastPlace) {
    std::mt19937 draw(20261129);
    std::uniform_real_distribution<double> value(-3000.0, 3000.0);
    for (int i = 0; i < 2000; ++i) {
        const double wanted = value(draw);
        EXPECT_NEAR(std::strtod(svg_number(wanted).c_str(), nullptr), wanted, 0.5e-4 + 1e-12);
    }
}

TEST(SvgPath, MovesOnceAndClosesWhereItIsClosed) {
    EXPECT_EQ(svg_path({{0, 0}, {1.5, 2}, {3, 0}}, true), "M0 0L1.5 2L3 0Z");
    EXPECT_EQ(svg_path({{0, 0}, {1, 1}}, false), "M0 0L1 1");
    EXPECT_EQ(svg_path({}, false), "");
}

TEST(SvgText, StandsOnItsBaseLine) {
    EXPECT_EQ(svg_text({3, 4}, "a<b", {.size = 2.5, .anchor = "end", .fill = "#123", .bold = true}),
              "<text x=\"3\" y=\"4\" font-size=\"2.5\" text-anchor=\"end\" fill=\"#123\" "
              "font-weight=\"bold\">a&lt;b</text>\n");
}

drawing::Drawing square() {
    drawing::Drawing drawing;
    drawing.name = "1A";
    drawing.title = "Ply 1";
    drawing.lines.push_back(
        {drawing::Role::cut, {{-40, -10}, {60, -10}, {60, 30}, {-40, 30}}, true});
    return drawing;
}

TEST(SvgTemplate, IsAsLargeAsItsDrawingWithItsMarginsAndTheBar) {
    // By hand: 100 mm less than the 116 mm that the check bar takes, 8 mm all round, 16 mm of foot.
    const std::string svg = svg_template(square());
    EXPECT_EQ(attribute(svg, "<svg", "width"), "132mm");
    EXPECT_EQ(attribute(svg, "<svg", "height"), "72mm");  // 40 + 16 + 16
    EXPECT_EQ(attribute(svg, "<svg", "viewBox"), "0 0 132 72");
    // Middle of the drawing at x = 10, of the paper at 66: the datum stands at 56; top at 8 + 30.
    EXPECT_NE(svg.find("Datum at (56, 38)"), std::string::npos) << svg;
    EXPECT_NE(svg.find("<path d=\"M16 48L116 48L116 8L16 8Z\"/>"), std::string::npos) << svg;
}

TEST(SvgTemplate, HasABarOfAHundredMillimetres) {
    // Its line and its eleven ticks, 10 mm apart, on the line; those at 0, 50 and 100 are longer.
    const std::string svg = svg_template(square());
    const std::string path = attribute(svg, "check-bar", "d");
    EXPECT_NE(path.find("M16 62L116 62"), std::string::npos) << path;
    for (int i = 0; i <= 10; ++i) {
        const std::string x = svg_number(16.0 + 10.0 * i);
        EXPECT_NE(path.find("M" + x + " 62L" + x + (i % 5 == 0 ? " 58" : " 60")), std::string::npos)
            << i;
    }
}

TEST(SvgTemplate, GrowsWithADrawingWiderThanItsBar) {
    drawing::Drawing wide = square();
    for (Vec2& p : wide.lines[0].points) p.x() *= 3.0;
    EXPECT_EQ(attribute(svg_template(wide), "<svg", "width"), "316mm");  // 300 + 2 x 8
}

TEST(SvgTemplate, SaysInItsTitleThatItIsTurnedOver) {
    drawing::Drawing turned = square();
    EXPECT_NE(svg_template(turned).find("<title>Ply 1</title>"), std::string::npos);
    turned.mirrored = true;
    EXPECT_NE(svg_template(turned).find("<title>Ply 1 MIRRORED</title>"), std::string::npos);
}

TEST(SvgGroups, TurnWordsAgainstTheClockAsPaperCountsIt) {
    // Up points to the left: the words climb, which SVG, with y down, calls -90 degrees; capitals
    // are 0.72 of the em, so 3.6 mm of letter are 5 mm of font.
    drawing::Drawing drawing = square();
    drawing.texts.push_back({{10, 10}, {-3.6, 0}, "UP", false});
    const std::string svg = svg_groups(drawing, {50, 100});
    EXPECT_NE(
        svg.find(
            "<text x=\"60\" y=\"90\" font-size=\"5\" transform=\"rotate(-90 60 90)\">UP</text>"),
        std::string::npos)
        << svg;
}

TEST(SvgGroups, PutWarningsInAGroupOfTheirOwn) {
    drawing::Drawing drawing = square();
    drawing.texts.push_back({{0, 0}, {0, 3}, "CUT HERE", true});
    const std::string svg = svg_groups(drawing, {0, 0});
    EXPECT_EQ(svg.find("id=\"words\""), std::string::npos);
    EXPECT_LT(svg.find("id=\"warnings\""), svg.find("CUT HERE"));
}

}  // namespace
}  // namespace tearline::formats

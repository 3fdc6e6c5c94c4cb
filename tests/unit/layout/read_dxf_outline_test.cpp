#include "core/layout/read_dxf_outline.h"

#include <gtest/gtest.h>

#include <numbers>

namespace tearline::layout {
namespace {

std::string entities(const std::string& body) {
    return "0\nSECTION\n2\nENTITIES\n" + body + "0\nENDSEC\n0\nEOF\n";
}

std::string line(double x0, double y0, double x1, double y1) {
    const auto text = [](double value) { return std::to_string(value) + "\n"; };
    return "0\nLINE\n8\n0\n10\n" + text(x0) + "20\n" + text(y0) + "11\n" + text(x1) + "21\n" +
           text(y1);
}

TEST(DxfOutline, OfAPolylineOfTheOldKind) {
    std::string body = "0\nPOLYLINE\n8\n1\n66\n1\n70\n1\n10\n0\n20\n0\n";
    for (const char* at : {"10\n0\n20\n0\n", "10\n0\n20\n50\n", "10\n80\n20\n50\n"})
        body += std::string("0\nVERTEX\n8\n1\n") + at;
    const auto outline = parse_dxf_outline(entities(body + "0\nSEQEND\n"), "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_EQ(outline->size(), 3u);
    EXPECT_DOUBLE_EQ(signed_area(*outline), 2000.0);  // by hand; turned counter-clockwise
}

TEST(DxfOutline, OfABulgeIsItsArc) {
    // Half a disc of radius 50 on a side of 100: bulge 1 is half a turn. Chords of 3 degrees lose
    // 1 - sin(a)/a, a = 3 degrees: 0.046 %.
    const std::string body =
        "0\nLWPOLYLINE\n8\n0\n90\n2\n70\n1\n10\n0\n20\n0\n42\n1.0\n10\n100\n20\n0\n42\n0\n";
    const auto outline = parse_dxf_outline(entities(body), "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    const double disc = 0.5 * std::numbers::pi * 2500.0;
    EXPECT_NEAR(signed_area(*outline), disc, 0.0005 * disc);
    for (const Vec2& p : *outline) EXPECT_NEAR((p - Vec2(50, 0)).norm(), 50.0, 1e-9);
}

TEST(DxfOutline, OfLinesInAnyOrderAndEitherWay) {
    const auto outline = parse_dxf_outline(
        entities(line(0, 0, 90, 0) + line(0, 40, 0, 0) + line(90, 0, 90, 40) + line(0, 40, 90, 40)),
        "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_EQ(outline->size(), 4u);
    EXPECT_DOUBLE_EQ(signed_area(*outline), 3600.0);
}

TEST(DxfOutline, OfAnArcAndItsChord) {
    const std::string arc = "0\nARC\n8\n0\n10\n0\n20\n0\n40\n50\n50\n0\n51\n180\n";
    const auto outline = parse_dxf_outline(entities(arc + line(-50, 0, 50, 0)), "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    const double disc = 0.5 * std::numbers::pi * 2500.0;
    EXPECT_NEAR(signed_area(*outline), disc, 0.0005 * disc);
}

TEST(DxfOutline, OfACircle) {
    const std::string circle = "0\nCIRCLE\n8\n0\n10\n7\n20\n9\n40\n50\n";
    const auto outline = parse_dxf_outline(entities(circle), "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    const double disc = std::numbers::pi * 2500.0;
    EXPECT_NEAR(signed_area(*outline), disc, 0.0005 * disc);
}

TEST(DxfOutline, RefusesWhatIsNoneOrSeveral) {
    const std::string square = line(0, 0, 90, 0) + line(90, 0, 90, 40) + line(90, 40, 0, 40);
    const std::string circle = "0\nCIRCLE\n8\n0\n10\n7\n20\n9\n40\n50\n";
    struct Case {
        std::string text, words;
    };
    for (const Case& one : std::vector<Case>{
             {"", "no closed outline"},
             {"solid hull\n", "is no DXF file"},
             {"AutoCAD Binary DXF\r\n", "binary"},
             {entities(square), "no closed outline"},
             {entities(circle + circle), "2 closed outlines"},
             {entities("0\nCIRCLE\n10\nseven\n20\n9\n40\n50\n"), "no number"},
             {entities("0\nLWPOLYLINE\n70\n1\n10\nnan\n20\n0\n10\n1\n20\n0\n"), "no number"},
             {entities("0\nCIRCLE\n10\n1e300\n20\n9\n40\n50\n"), "no number"}}) {
        const auto outline = parse_dxf_outline(one.text, "left.dxf");
        ASSERT_FALSE(outline) << one.text;
        EXPECT_NE(outline.error().message().find(one.words), std::string::npos)
            << outline.error().message();
        EXPECT_NE(outline.error().message().find("left.dxf"), std::string::npos);
    }
}

}  // namespace
}  // namespace tearline::layout

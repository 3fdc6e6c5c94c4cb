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
    EXPECT_EQ(outline->points.size(), 3u);
    EXPECT_DOUBLE_EQ(signed_area(outline->points), 2000.0);  // by hand; turned counter-clockwise
}

TEST(DxfOutline, OfABulgeIsItsArc) {
    // Half a disc of radius 50 on a side of 100: bulge 1 is half a turn. Chords of 3 degrees lose
    // 1 - sin(a)/a, a = 3 degrees: 0.046 %.
    const std::string body =
        "0\nLWPOLYLINE\n8\n0\n90\n2\n70\n1\n10\n0\n20\n0\n42\n1.0\n10\n100\n20\n0\n42\n0\n";
    const auto outline = parse_dxf_outline(entities(body), "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    const double disc = 0.5 * std::numbers::pi * 2500.0;
    EXPECT_NEAR(signed_area(outline->points), disc, 0.0005 * disc);
    for (const Vec2& p : outline->points) EXPECT_NEAR((p - Vec2(50, 0)).norm(), 50.0, 1e-9);
}

TEST(DxfOutline, OfLinesInAnyOrderAndEitherWay) {
    const auto outline = parse_dxf_outline(
        entities(line(0, 0, 90, 0) + line(0, 40, 0, 0) + line(90, 0, 90, 40) + line(0, 40, 90, 40)),
        "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_EQ(outline->points.size(), 4u);
    EXPECT_DOUBLE_EQ(signed_area(outline->points), 3600.0);
}

TEST(DxfOutline, OfAnArcAndItsChord) {
    const std::string arc = "0\nARC\n8\n0\n10\n0\n20\n0\n40\n50\n50\n0\n51\n180\n";
    const auto outline = parse_dxf_outline(entities(arc + line(-50, 0, 50, 0)), "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    const double disc = 0.5 * std::numbers::pi * 2500.0;
    EXPECT_NEAR(signed_area(outline->points), disc, 0.0005 * disc);
}

TEST(DxfOutline, OfACircle) {
    const std::string circle = "0\nCIRCLE\n8\n0\n10\n7\n20\n9\n40\n50\n";
    const auto outline = parse_dxf_outline(entities(circle), "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    const double disc = std::numbers::pi * 2500.0;
    EXPECT_NEAR(signed_area(outline->points), disc, 0.0005 * disc);
}

TEST(DxfOutline, PassesOverNotesPaperAndControlPoints) {
    const std::string frame = "0\nCIRCLE\n67\n1\n10\n0\n20\n0\n40\n9\n";
    const std::string words = "0\nTEXT\n10\n0\n20\n0\n40\n3\n1\nroll\n0\nPOINT\n10\n0\n20\n0\n";
    // A spline-fit polyline keeps the points that pull at its curve (flag 16) among its own.
    std::string body = "0\nPOLYLINE\n66\n1\n70\n5\n";
    for (const char* at : {"10\n0\n20\n0\n70\n8\n", "10\n900\n20\n900\n70\n16\n",
                           "10\n80\n20\n0\n70\n8\n", "10\n80\n20\n50\n70\n8\n"})
        body += std::string("0\nVERTEX\n") + at;
    const auto outline = parse_dxf_outline(entities(frame + words + body + "0\nSEQEND\n"), "a.dxf");
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_DOUBLE_EQ(signed_area(outline->points), 2000.0);  // by hand
}

TEST(DxfOutline, SaysWhatItsHeaderSaysOfItsUnit) {
    // Codes of $INSUNITS as ezdxf's documentation lists them.
    const std::string circle = entities("0\nCIRCLE\n8\n0\n10\n7\n20\n9\n40\n50\n");
    for (const auto& [code, unit] : std::vector<std::pair<std::string, std::string>>{
             {"0", ""}, {"1", "in"}, {"2", "ft"}, {"4", "mm"}, {"5", "cm"}, {"6", "m"}})
        EXPECT_EQ(parse_dxf_outline(
                      "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n" + code + "\n0\nENDSEC\n" + circle,
                      "a.dxf")
                      .value()
                      .unit,
                  unit);
    EXPECT_EQ(parse_dxf_outline(circle, "a.dxf").value().unit, "");
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
             {"0\nSECTION\n2\nENTITIES\n" + circle, "cut short"},
             {"0\nSECTION\n2\nENTITIES\n" + circle + "0\nENDSEC\n0\nEO", "cut short"},
             {entities(square), "close no outline, from 0.00, 0.00 to 0.00, 40.00"},
             // What could be a hole: lines left open, another curve, a block, a mesh.
             {entities(circle + line(0, 0, 9, 0)), "close no outline"},
             {entities(circle + "0\nSPLINE\n70\n1\n10\n0\n20\n0\n"), "SPLINE"},
             {entities(circle + "0\nELLIPSE\n10\n0\n20\n0\n"), "ELLIPSE"},
             {entities("0\nINSERT\n2\nrest\n10\n0\n20\n0\n"), "take blocks apart"},
             {entities(circle + "0\nPOLYLINE\n70\n64\n0\nSEQEND\n"), "POLYLINE"},
             // By its normal it is seen from below: its x would run the other way.
             {entities("0\nCIRCLE\n10\n7\n20\n9\n40\n50\n230\n-1\n"), "from above"},
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

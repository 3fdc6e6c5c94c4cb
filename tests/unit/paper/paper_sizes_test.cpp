#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "core/paper/paper.h"

namespace tearline::paper {
namespace {

TEST(KnownPapers, HaveTheSizesOfTheirStandards) {
    // ISO 216: A4 is 210 x 297 mm, A3 twice that; ANSI/ASME Y14.1: 8.5 x 11 and 11 x 17 in.
    EXPECT_EQ(read_paper("A4")->height, 297.0);
    EXPECT_EQ(read_paper("A3")->height, 2 * read_paper("A4")->width);
    EXPECT_NEAR(read_paper("letter")->width, 215.9, 1e-9);
    EXPECT_NEAR(read_paper("Letter")->height, 279.4, 1e-9);
    EXPECT_NEAR(read_paper("tabloid")->width, read_paper("letter")->height, 1e-9);
    EXPECT_NEAR(read_paper("TABLOID")->height, 431.8, 1e-9);
}

TEST(ReadPaper, TakesARollOfAnyWidthInMillimetresOrInches) {
    for (const char* text : {"roll 914.4", "roll 914.4 mm", "roll 36 in", "36in", "ROLL 36 IN"}) {
        const auto paper = read_paper(text);
        ASSERT_TRUE(paper) << text;
        EXPECT_NEAR(paper->width, 914.4, 1e-9) << text;
        EXPECT_TRUE(paper->roll);
    }
    EXPECT_EQ(read_paper("roll 36 in")->name, "roll 36 in");
    EXPECT_EQ(read_paper("roll 800")->name, "roll 800 mm");
}

TEST(ReadPaper, RefusesWhatIsNone) {
    for (const char* text : {"", "A7", "roll", "roll wide", "roll 249", "roll 5001", "roll nan",
                             "roll -914", "roll 9 in", "A4 A3"})
        EXPECT_FALSE(read_paper(text)) << text;
    EXPECT_TRUE(read_paper("roll 250"));
    EXPECT_TRUE(read_paper("roll 5000"));
}

TEST(ReadPrintScale, IsANumberOrABarByWhatItMeasures) {
    // By hand: 100 / 99.4.
    EXPECT_DOUBLE_EQ(read_print_scale("1.01").value(), 1.01);
    EXPECT_NEAR(read_print_scale("100/99.4").value(), 1.0060362, 1e-7);
    EXPECT_NEAR(read_print_scale("4/3.98").value(), 1.0050251, 1e-7);
    for (const char* text : {"", "100/0", "/99", "100/", "a/b", "100/99/98", "1,01"})
        EXPECT_FALSE(read_print_scale(text)) << text;
}

TEST(PageFrame, LeavesTheMarginsTheHeaderAndTheUprightBar) {
    // By hand: 8 mm all round, 36 mm of header, 5 mm of bar.
    const PageFrame frame = page_frame({210.0, 297.0}, 1.0);
    EXPECT_DOUBLE_EQ(frame.window.low.x(), 13.0);
    EXPECT_DOUBLE_EQ(frame.window.low.y(), 8.0);
    EXPECT_DOUBLE_EQ(frame.window.high.x(), 202.0);
    EXPECT_DOUBLE_EQ(frame.window.high.y(), 253.0);
    EXPECT_DOUBLE_EQ(frame.header.low.y(), 253.0);
    EXPECT_DOUBLE_EQ(frame.header.high.y(), 289.0);
    EXPECT_DOUBLE_EQ(frame.bar_mm, 100.0);
    EXPECT_DOUBLE_EQ(frame.bar_inches, 4.0);
}

TEST(PageFrame, OfAnEnlargingPrintIsThatOfSmallerPaper) {
    // At a scale s everything grows, so the paper is 1/s as large; what is cut off stays the same.
    const PageFrame frame = page_frame({210.0, 297.0}, 1.02);
    EXPECT_NEAR(frame.paper.x(), 210.0 / 1.02, 1e-9);
    EXPECT_NEAR(frame.window.size().x(), 210.0 / 1.02 - 21.0, 1e-9);
    EXPECT_NEAR(frame.window.size().y(), 297.0 / 1.02 - 52.0, 1e-9);
}

TEST(PageFrame, HasRoomForItsBars) {
    for (const Paper& paper : known_papers()) {
        const PageFrame frame = page_frame({paper.width, paper.height}, 1.0);
        EXPECT_LE(std::max(frame.bar_mm, frame.bar_inches * 25.4), frame.header.size().x());
        EXPECT_LE(frame.bar_mm, frame.side.size().y());
        EXPECT_EQ(check_bar(paper, 1.0, Units::metric), frame.bar_mm);
        EXPECT_EQ(check_bar(paper, 1.0, Units::us), frame.bar_inches);
    }
    EXPECT_EQ(page_frame({260.0, 300.0}, 1.0).bar_mm, 150.0) << "wide paper has the longer bars";
    EXPECT_EQ(page_frame({259.0, 300.0}, 1.0).bar_mm, 100.0);
}

TEST(PaperHeight, LeavesTheWindowAskedForOnARoll) {
    for (const double scale : {1.0, 1.02, 0.97})
        for (const double window : {200.0, 1500.0}) {
            const double height = paper_height_for(window, scale);
            EXPECT_NEAR(page_frame({914.0, height}, scale).window.size().y(), window, 1e-9);
        }
    for (const double width : {250.0, 260.0, 914.0}) {
        const PageFrame frame = page_frame({width, paper_height_for(10.0, 1.0)}, 1.0);
        EXPECT_GT(frame.side.size().y(), frame.bar_mm)
            << "an upright bar that ran on through the header would hide the ends of the others";
    }
}

TEST(OwnPaper, IsThatOfTheReadersCountry) {
    EXPECT_EQ(own_paper(Units::metric), "A4");
    EXPECT_EQ(own_paper(Units::us), "Letter");
}

}  // namespace
}  // namespace tearline::paper

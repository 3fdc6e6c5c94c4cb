#include "core/drawing/ring_sheet.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <string>

#include "tests/unit/drawing/shapes.h"

namespace tearline::drawing {
namespace {

using templates::TemplateSet;

TEST(RingSheet, ServesPliesWhoseRingsAgree) {
    const auto sheet = ring_sheet(disc_set({100, 112, 124}));
    ASSERT_TRUE(sheet);
    EXPECT_EQ(sheet->pieces.size(), 3u);
    EXPECT_NEAR(sheet->farthest_mm, 0.0, 1e-9);
}

TEST(RingSheet, IsRefusedFromTwoMillimetresOn) {
    // Concentric circles: their distance is the difference of the radii.
    TemplateSet set = disc_set({100, 112});
    set.guide.rings[1].loops = {circle(113.9)};
    ASSERT_TRUE(ring_sheet(set));
    EXPECT_NEAR(ring_sheet(set)->farthest_mm, 1.9, 0.01);
    set.guide.rings[1].loops = {circle(114.1)};
    EXPECT_FALSE(ring_sheet(set));
}

TEST(RingSheet, IsRefusedForPliesInPiecesOrWithReliefCuts) {
    TemplateSet set = disc_set({100, 112});
    set.pieces[0].outline.relief_cuts.push_back({"slit", {{0, 0}, {50, 0}}});
    EXPECT_FALSE(ring_sheet(set));
    set = disc_set({100, 112});
    set.pieces[1].ply = 1;
    EXPECT_FALSE(ring_sheet(set));
    EXPECT_FALSE(ring_sheet(disc_set({100})));
}

TEST(RingSheet, TellsEveryRingByItsDistanceFromTheDatum) {
    const TemplateSet set = disc_set({150, 162, 174});
    const Drawing sheet = ring_sheet_drawing(set, *ring_sheet(set), false);
    std::map<std::string, int> said;
    for (const Drawing::Text& text : sheet.texts) ++said[text.text];
    EXPECT_EQ(said["net 1A"] + said["net 2A"] + said["net 3A"], 3);
    // Discs round the datum: the same at each of the 24 directions of 15 degrees.
    for (const char* radius : {"150.0", "162.0", "174.0"}) EXPECT_EQ(said[radius], 24) << radius;
}

TEST(RingSheet, HasNoTableWhereItsSmallestRingHasNoRoom) {
    const TemplateSet set = disc_set({30, 42});
    for (const Drawing::Text& text : ring_sheet_drawing(set, *ring_sheet(set), false).texts)
        EXPECT_NE(text.text, "net 1A");
}

TEST(RingSheet, SaysWhatItIsOnNoLineAndNoOtherWord) {
    // By reading: every word of the sheet can be read.
    for (const double smallest : {40.0, 150.0}) {
        const TemplateSet set = disc_set({smallest, smallest + 12.0, smallest + 24.0});
        const Drawing sheet = ring_sheet_drawing(set, *ring_sheet(set), false);
        int said = 0;
        for (const Drawing::Text& text : sheet.texts) {
            said += text.text == "ONE SHEET FOR 1A 2A 3A" ? 1 : 0;
            for (const Drawing::Line& line : sheet.lines)
                EXPECT_FALSE(runs_through(line.points, line.closed, text)) << text.text;
            for (const Drawing::Text& other : sheet.texts)
                EXPECT_TRUE(&other == &text || !runs_through(corners(box_of(other)), true, text))
                    << text.text << " and " << other.text;
        }
        EXPECT_EQ(said, 1);
    }
}

}  // namespace
}  // namespace tearline::drawing

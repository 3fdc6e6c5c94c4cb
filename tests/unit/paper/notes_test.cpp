#include "core/paper/notes.h"

#include <gtest/gtest.h>

#include "tests/unit/paper/shapes.h"

namespace tearline::paper {
namespace {

/// Everything that the note says, in one text.
std::string said(const TemplateSet& set, const PrintChoice& choice = {}) {
    std::string all;
    for (const Drawing::Text& text : notes_of(set, choice, {outlined("1A", rectangle(9, 9))}).texts)
        all += text.text + " ";
    return all;
}

bool says(const std::string& all, const std::string& words) {
    return all.find(words) != std::string::npos;
}

TEST(Notes, TellWhatHurtsWithTheResinAtHand) {
    // SOURCES.md section 7: peroxide blinds, epoxy sensitises; styrene is not in epoxy.
    TemplateSet set = disc_set({60, 72});
    EXPECT_TRUE(says(said(set), "Peroxide hardener blinds: goggles, eye wash at hand."));
    set.epoxy = true;
    EXPECT_TRUE(says(said(set), "Epoxy sensitises and its hardener burns"));
    EXPECT_FALSE(says(said(set), "Peroxide"));
    for (const char* words : {"Not for keel, rudder, rig or chainplate zones",
                              "look behind the skin: tanks, wiring, seacocks",
                              "data sheets of your resin; they rule over any figure here"})
        EXPECT_TRUE(says(said(set), words)) << words;
}

TEST(Notes, OfWhatIsOnlyLaidFlatSpeakOfNoRepair) {
    TemplateSet set = disc_set({60});
    set.flat = true;
    EXPECT_FALSE(says(said(set), "resin"));
    EXPECT_TRUE(says(said(set), "NET lines, thin: the edge on the model."));
}

TEST(Notes, SayWhichBarIsWhichLengthInTheReadersUnits) {
    TemplateSet set = disc_set({60});
    EXPECT_TRUE(says(said(set), "100 mm on paper is 100 mm within 0.5 mm"));
    EXPECT_TRUE(says(said(set), "print scale = 100 mm / what that bar measures (now 1.0000)"));
    set.units = Units::us;
    EXPECT_TRUE(says(said(set), "4 in on paper is 4 in within 1/64 in"));
    // 297 mm of A3 hold the longer bars; a roll too.
    PrintChoice wide;
    wide.paper = read_paper("A3").value();
    wide.print_scale = 0.994;
    EXPECT_TRUE(says(said(set, wide), "6 in on paper is 6 in"));
    EXPECT_TRUE(says(said(set, wide), "(now 0.9940)"));
}

TEST(Notes, NameOnlyTheLinesThatThereAre) {
    TemplateSet set = disc_set({60});
    set.pieces[0].mat = true;
    EXPECT_TRUE(says(said(set), "TEAR lines, heavy and dashed: tear the mat, do not cut it."));
    EXPECT_FALSE(says(said(set), "CUT lines"));
    set.pieces[0].mat = false;
    EXPECT_FALSE(says(said(set), "TEAR lines"));
    EXPECT_TRUE(says(said(set), "CUT lines, heavy: cut."));
}

TEST(Notes, SayThatTemplatesAreTurnedOver) {
    PrintChoice mirrored;
    mirrored.mirrored = true;
    EXPECT_TRUE(
        says(said(disc_set({60}), mirrored), "when you lay the glass, but these are MIRRORED."));
    EXPECT_FALSE(says(said(disc_set({60})), "MIRRORED"));
}

TEST(Notes, KeepTheirLinesApartAndInTheirFrame) {
    const Drawing notes = notes_of(disc_set({60, 72}), {}, {outlined("1A", rectangle(9, 9))});
    ASSERT_EQ(notes.lines.size(), 1u);
    const plane::Box frame = plane::box_round(notes.lines[0].points);
    double above = 1e9;
    for (const Drawing::Text& text : notes.texts) {
        const Box box = box_round(text);
        EXPECT_LE(box.high.y(), above) << text.text;
        EXPECT_GE(box.low.y(), frame.low.y()) << text.text;
        EXPECT_LE(box.high.y(), frame.high.y()) << text.text;
        EXPECT_TRUE(text.from_left);
        above = box.low.y();
    }
}

}  // namespace
}  // namespace tearline::paper

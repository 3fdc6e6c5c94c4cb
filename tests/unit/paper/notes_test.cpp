#include "core/paper/notes.h"

#include <gtest/gtest.h>

#include "core/paper/read_plan_json.h"
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

/// A plan of one piece by hand, as plan.json holds it.
std::string plan_with(const std::string& more_of_piece, const std::string& more = "") {
    return R"({"schema":"tearline-plan/1","job":{"title":"Curlew","model":"curlew.step",
        "model_sha256":"0123456789abcdef","effective":{"resin":{"kind":"epoxy"},
        "display_units":"us"}},"plies":[{"number":3,"fabric":"mat 450","kind":"mat","pieces":[
        {"id":"3A","net_line":[[0,0],[100,0],[100,50],[0,50]],"net_holes":[[[10,10],[10,20],
        [20,20],[20,10]]],"axis_deg":30,"area_mm2":12600)" +
           more_of_piece + "}]}]" + more + "}";
}

TEST(ReadPlanJsonByHand, GivesBackEveryLineOfATemplate) {
    const auto read = read_plan_json(plan_with(
        R"(,"tear_line":[[-20,-20],[120,-20],[120,70],[-20,70]],"tear_holes":[],
            "marks":[{"kind":"tick","points":[[92,25],[108,25]],"text":"bow"},
                     {"kind":"batten","points":[[0,0]],"text":"of a later program"}],
            "relief_cuts":[{"kind":"slit","points":[[50,-20],[50,10]]}])"));
    ASSERT_TRUE(read) << read.error().message();
    EXPECT_EQ(read->title, "Curlew");
    EXPECT_EQ(read->model, "curlew.step");
    EXPECT_TRUE(read->epoxy);
    EXPECT_EQ(read->units, Units::us);
    ASSERT_EQ(read->pieces.size(), 1u);
    const templates::PieceTemplate& piece = read->pieces[0];
    EXPECT_EQ(piece.id, "3A");
    EXPECT_EQ(piece.ply, 3);
    EXPECT_TRUE(piece.mat);
    EXPECT_EQ(piece.outline.net.outer, (Loop2{{0, 0}, {100, 0}, {100, 50}, {0, 50}}));
    ASSERT_EQ(piece.outline.net.holes.size(), 1u);
    EXPECT_EQ(piece.outline.net.holes[0][2], Vec2(20, 20));
    ASSERT_TRUE(piece.outline.tear);
    EXPECT_EQ(piece.outline.tear->outer[2], Vec2(120, 70));
    EXPECT_FALSE(piece.outline.cut);
    ASSERT_EQ(piece.outline.marks.size(), 1u) << "a kind that is not known here is passed over";
    EXPECT_EQ(std::get<templates::Tick>(piece.outline.marks[0]).towards, "bow");
    ASSERT_EQ(piece.outline.relief_cuts.size(), 1u);
    EXPECT_EQ(piece.outline.relief_cuts[0].points[1], Vec2(50, 10));
}

TEST(ReadPlanJsonByHand, RefusesWhatCouldBeCutWrongly) {
    // A template of wrong values is worse than none: each is named, and nothing is drawn.
    for (const auto& [piece, word] :
         {std::pair{R"(,"tear_line":[[0,0],[1,"a"],[1,1]])", "tear_line"},
          {R"(,"tear_line":[[0,0],[1,1]])", "fewer than three"},
          {R"(,"tear_line":[[0,0,0],[1,0,0],[1,1,0]])", "[x, y]"},
          {R"(,"cut_line":7)", "cut_line"}}) {
        const auto read = read_plan_json(plan_with(piece));
        ASSERT_FALSE(read) << piece;
        EXPECT_NE(read.error().message().find(word), std::string::npos) << read.error().message();
    }
    EXPECT_FALSE(read_plan_json("{"));
    EXPECT_FALSE(read_plan_json(R"({"schema":"tearline-plan/2"})"));
}

}  // namespace
}  // namespace tearline::paper

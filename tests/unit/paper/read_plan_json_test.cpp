#include "core/paper/read_plan_json.h"

#include <gtest/gtest.h>

#include <string>

#include "core/paper/print_layout.h"
#include "tests/unit/paper/shapes.h"

// Plans by hand, as plan.schema.json has them, and everything that a damaged or
// edited one may hold: a template of wrong values is worse than none.
namespace tearline::paper {
namespace {

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

/// What is refused of a plan, or "" where it is read and drawn.
std::string refused(const std::string& json) {
    const auto read = read_plan_json(json);
    if (!read) {
        EXPECT_EQ(read.error().kind, ErrorKind::bad_input);
        return read.error().message();
    }
    PrintChoice all;
    all.polar_tables = true;
    EXPECT_FALSE(drawings_of(*read, all).empty());
    return "";
}

bool names(const std::string& message, const std::string& what) {
    return message.find(what) != std::string::npos &&
           message.find("write the plan again with `tearline plan`") != std::string::npos;
}

std::string guide(const std::string& rings, const std::string& outer = "[[0,0],[9,0],[9,9]]") {
    return R"(,"grind_guide":{"footprint":{"outer":)" + outer + R"(,"holes":[]},"rings":[)" +
           rings + R"(],"marks":[]})";
}

TEST(ReadPlanJsonByHand, RefusesWhatNoSheetCanShow) {
    // Each once took the printing program out of its arrays or its memory, or was drawn as another
    // number than it says.
    for (const auto& [piece, more, word] :
         {std::tuple{R"(,"tear_line":[[0,0],[1e9,0],[1,1]])", std::string(), "kilometre"},
          {R"(,"tear_line":[[0,0],[9,0],[9,9]],"tear_holes":[[]])", std::string(),
           "fewer than three"},
          {R"(,"tear_line":[[0,0],[9,0],[9,9]],"tear_holes":[[[1,1],[2,2]]])", std::string(),
           "fewer than three"},
          {"", guide(R"({"loops":[[]],"text":"PLY 1","depth_mm":1})"), "fewer than two"},
          {"", guide(R"({"loops":[[[1,1]]],"text":"PLY 1","depth_mm":1})"), "fewer than two"},
          {"", guide(R"({"loops":[],"text":"PLY 1","depth_mm":"deep"})"), "finite number"},
          {"", guide(R"({"loops":[],"text":"PLY 1","depth_mm":1,"ply":1.5})"), "whole number"},
          {"", guide(R"({"loops":[],"text":"PLY 1","depth_mm":1,"ply":1e300})"), "whole number"},
          {"", guide("", "[[0,0],[1,1]]"), "fewer than three"},
          {"", guide("", "7"), "no list"},
          {"", R"(,"sections":[{"name":"along","edge":[[0,0],[9,0]],"angle_deg":180}])",
           "angle_deg"},
          {"", R"(,"sections":[{"name":"along","edge":[[0,0],[9,0]],"angle_deg":-15}])",
           "angle_deg"},
          {"", R"(,"sections":[{"name":"along","edge":[[0,0],[9,0]],"angle_deg":1e9}])",
           "angle_deg"},
          {"", R"(,"sections":[{"name":"along","edge":[[0,0]]}])", "fewer than two"}}) {
        const std::string message = refused(plan_with(piece, more));
        EXPECT_TRUE(names(message, word)) << piece << more << "\n" << message;
    }
}

TEST(ReadPlanJsonByHand, DrawsWhatIsOddButRight) {
    for (const std::string& more :
         {guide(""), guide("", "[]"), guide(R"({"loops":[],"text":"","depth_mm":0})"),
          guide(R"({"loops":[[[1,1],[2,2]]],"text":"PLY 1","depth_mm":1,"ply":null})"),
          guide(R"({"loops":[[[1,1],[1,1],[1,1]]],"text":"PLY 1","depth_mm":1})"),
          std::string(R"(,"sections":[{"name":"along","edge":[[0,0],[0,0]]}])"),
          std::string(R"(,"sections":[{"name":"along","edge":[[9,0],[-9,0]],"angle_deg":90}])"),
          std::string(R"(,"sections":[],"frame":{"points_to":{"right":"bow"}})"),
          std::string(R"(,"backing":null,"core":{"pieces":[]})")})
        EXPECT_EQ(refused(plan_with("", more)), "") << more;
    for (const char* piece :
         {R"(,"marks":[{"kind":"tick","points":[]},{"kind":"label","points":[[1,1]],"text":"A"},
             {"kind":"press_first","points":[[1,1],[1,1]]},{"kind":"datum","points":[[0,0],[0,0]]},
             {"kind":"fold","points":[[0,0],[0,0]]},{"kind":"next_edge","points":[[0,0],[9,9]]},
             {"kind":"bow","points":[[5,5],[5,5]],"text":"BOW"}])",
          R"(,"relief_cuts":[{"kind":"dart","points":[]}])",
          R"(,"tear_line":null,"cut_line":null,"marks":null,"relief_cuts":null)"})
        EXPECT_EQ(refused(plan_with(piece)), "") << piece;
}

TEST(ReadPlanJsonByHand, EveryCutOfAPlanIsRefusedInWords) {
    // A copy that was not finished: no part of it is a plan.
    const std::string whole =
        plan_with(R"(,"tear_line":[[-20,-20],[120,-20],[120,70]])",
                  guide(R"({"loops":[[[0,0],[5,0],[5,5]]],"text":"PLY 3","depth_mm":1,"ply":3})"));
    ASSERT_EQ(refused(whole), "");
    for (std::size_t length = 0; length < whole.size(); ++length)
        EXPECT_TRUE(names(refused(whole.substr(0, length)), "plan.json")) << length;
}

TEST(ReadPlanJsonByHand, ReadsGuideSectionsAndWhereThePaperPoints) {
    const auto read = read_plan_json(plan_with(
        "", guide(R"({"loops":[[[1,0],[5,0],[5,5]]],"text":"PLY 3  DEPTH 1.5 mm","depth_mm":1.5,
                     "ply":3,"leader":[[5,0],[20,0]]},
                    {"loops":[],"text":"SCARF","depth_mm":0,"ply":-1})") +
                R"(,"frame":{"points_to":{"right":"bow","top":"up","left":"aft","bottom":"keel"}},
                    "sections":[{"name":"along","edge":[[-9,0],[9,1]],"ends":["aft","bow"]},
                                {"name":"across","edge":[[-9,0],[9,1]]},
                                {"name":"askew","edge":[[-9,0],[9,1]],"angle_deg":45}])"));
    ASSERT_TRUE(read) << read.error().message();
    ASSERT_EQ(read->guide.rings.size(), 2u);
    EXPECT_EQ(read->guide.rings[0].text, "PLY 3  DEPTH 1.5 mm");
    EXPECT_EQ(read->guide.rings[0].depth_mm, 1.5);
    EXPECT_EQ(read->guide.rings[0].ply, 3);
    EXPECT_EQ(read->guide.rings[0].leader.back(), Vec2(20, 0));
    EXPECT_EQ(read->guide.rings[1].ply, -1);
    EXPECT_EQ(read->ends, (std::array<std::string, 4>{"bow", "up", "aft", "keel"}));
    ASSERT_EQ(read->sections.size(), 3u);
    EXPECT_EQ(read->sections[0].ends[1], "bow");
    EXPECT_EQ(read->sections[0].angle_degrees, 0.0);
    EXPECT_EQ(read->sections[1].angle_degrees, 90.0) << "where the plan does not say";
    EXPECT_EQ(read->sections[2].angle_degrees, 45.0);
}

TEST(ReadPlanJsonByHand, PutsEachPlyOnTheSideThatHasIt) {
    std::string two = plan_with("", R"(,"sides":[{"name":"from outside","plies":[3]},
                                                 {"name":"from inside","plies":[4]}])");
    const std::string second = R"({"number":4,"fabric":"mat 450","kind":"mat","pieces":[
        {"id":"4A","net_line":[[0,0],[10,0],[10,5]],"area_mm2":25}]},)";
    two.insert(two.find(R"({"number":3)"), second);
    const auto read = read_plan_json(two);
    ASSERT_TRUE(read) << read.error().message();
    EXPECT_EQ(read->pieces.size(), 2u);
    ASSERT_EQ(read->parts.size(), 2u);
    EXPECT_EQ(read->parts[0].part, "from outside");
    ASSERT_EQ(read->parts[0].pieces.size(), 1u);
    EXPECT_EQ(read->parts[0].pieces[0].id, "3A");
    ASSERT_EQ(read->parts[1].pieces.size(), 1u);
    EXPECT_EQ(read->parts[1].pieces[0].id, "4A");
}

TEST(ReadPlanJsonByHand, StandsTheStationsOfABackingOnTheirBaseLine) {
    // Set up behind the far face, so turned over: what was below is above, the base line is 0.
    const auto read = read_plan_json(
        plan_with("", R"(,"backing":{"kind":"stations","pieces":[],"sections":[{"name":"station 2",
               "angle_deg":90,"ends":["a","b"],"edge":[[-80,12],[80,30]]}]})"));
    ASSERT_TRUE(read) << read.error().message();
    ASSERT_EQ(read->parts.size(), 2u) << "the plan itself and its stations";
    const templates::TemplateSet& stations = read->parts[1];
    EXPECT_EQ(stations.part, "stations");
    EXPECT_TRUE(stations.pieces.empty());
    ASSERT_EQ(stations.sections.size(), 1u);
    EXPECT_EQ(stations.sections[0].edge[0], Vec2(-80, -12));
    EXPECT_EQ(stations.sections[0].edge[1], Vec2(80, -30));
    EXPECT_EQ(stations.sections[0].back, 0.0);
}

TEST(ReadPlanJsonByHand, NamesThePiecesOfABoatByTheirPlace) {
    const std::string plan = plan_with("");
    const auto boat = [&](const std::string& places) {
        return R"({"schema":"tearline-boat/1","job":{"title":"Curlew, both sides"},"plans":[)" +
               places + "]}";
    };
    const std::string port = R"({"name":"port","plan":)" + plan + "}";
    const auto read = read_plan_json(boat(port + R"(,{"name":"stern","plan":)" + plan + "}"));
    ASSERT_TRUE(read) << read.error().message();
    EXPECT_EQ(read->title, "Curlew, both sides");
    EXPECT_TRUE(read->epoxy);
    EXPECT_EQ(read->units, Units::us);
    ASSERT_EQ(read->pieces.size(), 2u);
    EXPECT_EQ(read->pieces[0].id, "port-3A");
    EXPECT_EQ(read->pieces[1].id, "stern-3A");
    EXPECT_EQ(read->parts[1].part, "stern");
    EXPECT_TRUE(names(refused(boat("")), "no place"));
    EXPECT_TRUE(names(refused(R"({"schema":"tearline-boat/1","job":{}})"), "tearline print DIR"));
    EXPECT_TRUE(names(refused(boat(R"({"name":7,"plan":{}})")), "plans.name"));
}

}  // namespace
}  // namespace tearline::paper

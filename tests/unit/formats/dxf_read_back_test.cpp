#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "core/formats/cutter_sheet.h"
#include "core/formats/dxf.h"
#include "tests/support/loops.h"

namespace tearline::formats {
namespace {

using drawing::Role;

/// An entity or table entry of a DXF file: what begins with group code 0, and its groups.
struct Entity {
    std::string kind;
    std::vector<std::pair<int, std::string>> groups;

    [[nodiscard]] std::vector<std::string> all(int code) const {
        std::vector<std::string> out;
        for (const auto& [c, value] : groups)
            if (c == code) out.push_back(value);
        return out;
    }
    [[nodiscard]] std::string one(int code) const {
        const auto found = all(code);
        return found.empty() ? "" : found.front();
    }
    [[nodiscard]] double number(int code) const { return std::stod(one(code)); }
    [[nodiscard]] Vec2 at(int code = 10) const { return {number(code), number(code + 10)}; }
};

/// A reader of our own: pairs of lines, the code and its value, as the format's reference has it.
std::vector<Entity> read(const std::string& dxf) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < dxf.size();) {
        const auto end = dxf.find("\r\n", at);
        if (end == std::string::npos) throw std::runtime_error("a line without its end");
        lines.push_back(dxf.substr(at, end - at));
        at = end + 2;
    }
    if (lines.size() % 2 != 0) throw std::runtime_error("a code without its value");
    std::vector<Entity> out;
    for (std::size_t i = 0; i < lines.size(); i += 2) {
        const int code = std::stoi(lines[i]);
        if (code == 0)
            out.push_back({lines[i + 1], {}});
        else if (!out.empty())
            out.back().groups.emplace_back(code, lines[i + 1]);
    }
    return out;
}

/// What lies in one block.
std::vector<Entity> block(const std::vector<Entity>& file, const std::string& name) {
    std::vector<Entity> out;
    bool inside = false;
    for (const Entity& entity : file) {
        if (entity.kind == "ENDBLK") inside = false;
        if (inside) out.push_back(entity);
        if (entity.kind == "BLOCK" && entity.one(2) == name) inside = true;
    }
    return out;
}

std::vector<Entity> of(const std::vector<Entity>& all, const std::string& kind,
                       const std::string& layer = "") {
    std::vector<Entity> out;
    for (const Entity& entity : all)
        if (entity.kind == kind && (layer.empty() || entity.one(8) == layer)) out.push_back(entity);
    return out;
}

/// The closed polylines of R12 on a layer, each by its vertices.
std::vector<std::vector<Vec2>> polylines(const std::vector<Entity>& all, const std::string& layer) {
    std::vector<std::vector<Vec2>> out;
    bool on = false;
    for (const Entity& entity : all) {
        if (entity.kind == "POLYLINE") {
            on = entity.one(8) == layer;
            if (on) out.emplace_back();
        } else if (entity.kind == "VERTEX" && on) {
            out.back().push_back(entity.at());
        } else if (entity.kind == "SEQEND") {
            on = false;
        }
    }
    return out;
}

/// A house: five corners, no symmetry under turning over. A tick, a fibre line, a word that leans.
drawing::Drawing house(const std::string& name) {
    drawing::Drawing out;
    out.name = name;
    out.fabric = "mat 450";
    out.lines.push_back({Role::tear, {{0, 0}, {80, 0}, {80, 50}, {30, 75}, {0, 50}}, true});
    out.lines.push_back({Role::net, {{10, 10}, {70, 10}, {70, 40}, {10, 40}}, true});
    out.lines.push_back({Role::torn_hole, {{20, 20}, {20, 30}, {30, 30}}, true});
    out.lines.push_back({Role::tick, {{80, 25}, {72, 25}}, false});
    out.lines.push_back({Role::notch, {{80, 25}, {77, 25}}, false});
    out.lines.push_back({Role::drill, {{40, 25}}, false});
    out.texts.push_back({{40, 20}, {-3, 4}, "PLY 1 – ÄÖ", false});
    return out;
}

CutterSheet two_houses() {
    CutterSheet sheet;
    sheet.job = "Curlew";
    sheet.drawings = {house("1A"), house("2B")};
    sheet.places = {{20, 20}, {150, 20}};
    sheet.copies = 3;
    return sheet;
}

TEST(DxfR12, GivesEveryEdgeBackPointByPointOnItsLayer) {
    // The layers by ASTM D6673 (SOURCES.md section 9): 1 boundary, 8 drawn, 11 cut-outs.
    const auto file = read(dxf_r12(two_houses()));
    const auto piece = block(file, "1A");
    ASSERT_EQ(polylines(piece, "1").size(), 1u);
    EXPECT_EQ(polylines(piece, "1")[0], house("").lines[0].points);
    ASSERT_EQ(polylines(piece, "8").size(), 1u);
    EXPECT_EQ(polylines(piece, "8")[0], house("").lines[1].points);
    ASSERT_EQ(polylines(piece, "11").size(), 1u);
    EXPECT_EQ(polylines(piece, "11")[0], house("").lines[2].points);
    for (const Entity& line : of(piece, "POLYLINE")) EXPECT_EQ(line.one(70), "1") << "closed";
}

TEST(DxfR12, TellsCornersFromPointsOfCurves) {
    // By hand: a quarter of a circle in steps of 10 degrees, whose turns are 10 degrees, and three
    // corners: where the radii meet it, 95 degrees, and at the middle, 90.
    drawing::Drawing piece;
    piece.name = "1A";
    std::vector<Vec2> line{{0, 0}};
    for (int i = 0; i <= 9; ++i) {
        const double a = i * std::numbers::pi / 18.0;
        line.emplace_back(100 * std::cos(a), 100 * std::sin(a));
    }
    piece.lines.push_back({Role::cut, line, true});
    CutterSheet sheet;
    sheet.drawings = {piece};
    sheet.places = {{0, 0}};
    const auto all = block(read(dxf_r12(sheet)), "1A");
    const auto corners = of(all, "POINT", "2"), curve = of(all, "POINT", "3");
    ASSERT_EQ(corners.size(), 3u);
    EXPECT_EQ(corners[0].at(), Vec2(0, 0));
    EXPECT_EQ(corners[1].at(), Vec2(100, 0));
    EXPECT_NEAR((corners[2].at() - Vec2(0, 100)).norm(), 0.0, 1e-4);
    EXPECT_EQ(curve.size(), 8u);
}

TEST(DxfR12, SlitsANotchFromTheEdgeInwards) {
    // A point of the edge, 3 mm deep, the way in to the left: 180 degrees.
    const auto notches = of(block(read(dxf_r12(two_houses())), "1A"), "POINT", "4");
    ASSERT_EQ(notches.size(), 1u);
    EXPECT_EQ(notches[0].at(), Vec2(80, 25));
    EXPECT_NEAR(notches[0].number(30), 3.0, 1e-9);
    EXPECT_NEAR(notches[0].number(50), 180.0, 1e-9);
    CutterSheet sheet = two_houses();
    sheet.drawings[0].lines[4].points = {{40, 75}, {40, 70}};  // downwards: 270, not -90
    EXPECT_NEAR(of(block(read(dxf_r12(sheet)), "1A"), "POINT", "4")[0].number(50), 270.0, 1e-9);
}

TEST(DxfR12, DrillsOneHoleOfItsOwnLayerAndDrawsALineAsOne) {
    const auto piece = block(read(dxf_r12(two_houses())), "1A");
    ASSERT_EQ(of(piece, "POINT", "13").size(), 1u);
    EXPECT_EQ(of(piece, "POINT", "13")[0].at(), Vec2(40, 25));
    ASSERT_EQ(of(piece, "LINE", "8").size(), 1u);
    EXPECT_EQ(of(piece, "LINE", "8")[0].at(10), Vec2(80, 25));
    EXPECT_EQ(of(piece, "LINE", "8")[0].at(11), Vec2(72, 25));
}

TEST(DxfR12, GivesMatAGrainLineAlongTheRollAndClothItsOwn) {
    // Across the middle of 80 x 75 mm, a fifth of its width long (what readers turn a piece by).
    CutterSheet sheet = two_houses();
    const auto grain = of(block(read(dxf_r12(sheet)), "1A"), "LINE", "7");
    ASSERT_EQ(grain.size(), 1u);
    EXPECT_EQ(grain[0].at(10).y(), grain[0].at(11).y());
    EXPECT_NEAR((grain[0].at(11) - grain[0].at(10)).x(), 16.0, 1e-3);
    sheet.drawings[0].lines.push_back({Role::fibre, {{10, 10}, {50, 60}}, false});
    const auto own = of(block(read(dxf_r12(sheet)), "1A"), "LINE", "7");
    ASSERT_EQ(own.size(), 1u);
    EXPECT_EQ(own[0].at(11), Vec2(50, 60));
}

TEST(DxfR12, TurnsAWordAsItLeansAndKeepsItInAscii) {
    // up = (-3, 4): 5 mm high, leaning to the left by atan(3/4) = 36.8699 degrees.
    const auto words = of(block(read(dxf_r12(two_houses())), "1A"), "TEXT", "15");
    ASSERT_EQ(words.size(), 1u);
    EXPECT_NEAR(words[0].number(40), 5.0, 1e-9);
    EXPECT_NEAR(words[0].number(50), 36.8699, 1e-3);
    EXPECT_EQ(words[0].one(72), "1") << "about its middle";
    EXPECT_EQ(words[0].at(11), Vec2(40, 20));
    EXPECT_EQ(words[0].one(1), "PLY 1 \\U+2013 \\U+00C4\\U+00D6");
}

TEST(DxfR12, ListsEachPieceWithItsClothItsNumberAndItsUnit) {
    const auto file = read(dxf_r12(two_houses()));
    std::vector<std::string> texts;
    double last = 1e9;
    for (const Entity& text : of(block(file, "2B"), "TEXT", "1")) {
        texts.push_back(text.one(1));
        EXPECT_LT(text.at().y(), last) << "one line under the other";
        last = text.at().y();
    }
    EXPECT_EQ(texts, (std::vector<std::string>{"Piece Name: 2B", "Material: mat 450", "Quantity: 3",
                                               "Units: METRIC (mm)"}));
}

TEST(DxfR12, PutsEachBlockWhereItLiesOnTheSheet) {
    const auto file = read(dxf_r12(two_houses()));
    const auto inserts = of(file, "INSERT");
    ASSERT_EQ(inserts.size(), 2u);
    EXPECT_EQ(inserts[0].one(2), "1A");
    EXPECT_EQ(inserts[0].at(), Vec2(20, 20));
    EXPECT_EQ(inserts[1].one(2), "2B");
    EXPECT_EQ(inserts[1].at(), Vec2(150, 20));
    EXPECT_EQ(file.back().kind, "EOF");
    EXPECT_EQ(of(file, "SECTION").size(), of(file, "ENDSEC").size());
    EXPECT_EQ(of(file, "TABLE").size(), of(file, "ENDTAB").size());
}

TEST(DxfR12, EveryLayerThatIsUsedIsDeclared) {
    const auto file = read(dxf_r12(two_houses()));
    std::set<std::string> declared;
    for (const Entity& layer : of(file, "LAYER")) declared.insert(layer.one(2));
    for (const Entity& entity : file)
        EXPECT_TRUE(entity.one(8).empty() || declared.contains(entity.one(8))) << entity.kind;
    for (const Entity& table : of(file, "TABLE")) {
        if (table.one(2) != "LAYER") continue;
        EXPECT_EQ(table.one(70), std::to_string(declared.size()));
    }
}

TEST(DxfR12, MakesAnArcOfACircleWithTheBulgeOfItsAngle) {
    // Closed form: the bulge is the tangent of a quarter of the arc's angle; all arcs of a circle
    // in the same sense come to 360 degrees.
    drawing::Drawing piece;
    piece.name = "1A";
    piece.lines.push_back({Role::cut, test::circle(100.0, {0, 0}, 180), true});
    CutterSheet sheet;
    sheet.drawings = {piece};
    sheet.places = {{0, 0}};
    sheet.arcs = true;
    sheet.arc_error = 0.03;
    double angle = 0.0;
    const auto vertices = of(block(read(dxf_r12(sheet)), "1A"), "VERTEX", "1");
    EXPECT_LT(vertices.size(), 8u);
    for (const Entity& vertex : vertices) {
        EXPECT_NEAR(vertex.at().norm(), 100.0, 1e-3);
        if (!vertex.one(42).empty()) angle += 4.0 * std::atan(vertex.number(42));
    }
    EXPECT_NEAR(angle * 180.0 / std::numbers::pi, 360.0, 2.1) << "but for a straight step";
    sheet.arcs = false;
    EXPECT_EQ(of(block(read(dxf_r12(sheet)), "1A"), "VERTEX", "1").size(), 180u);
}

TEST(Dxf2000, GivesEveryEdgeBackPointByPointOnItsNamedLayer) {
    const auto piece = block(read(dxf_2000(two_houses())), "2B");
    const std::map<std::string, std::size_t> lines = {
        {"TEAR_LINE", 0}, {"NET_LINE", 1}, {"HOLES", 2}, {"MATCH_TICKS", 3}, {"NOTCHES", 4}};
    const drawing::Drawing original = house("");
    for (const auto& [layer, index] : lines) {
        const auto found = of(piece, "LWPOLYLINE", layer);
        ASSERT_EQ(found.size(), 1u) << layer;
        const auto x = found[0].all(10), y = found[0].all(20);
        const auto& wanted = original.lines[index];
        ASSERT_EQ(x.size(), wanted.points.size()) << layer;
        EXPECT_EQ(found[0].one(90), std::to_string(x.size()));
        EXPECT_EQ(found[0].one(70), wanted.closed ? "1" : "0") << layer;
        for (std::size_t i = 0; i < x.size(); ++i)
            EXPECT_EQ(Vec2(std::stod(x[i]), std::stod(y[i])), wanted.points[i]) << layer;
    }
    EXPECT_EQ(of(piece, "POINT", "DRILL").size(), 1u);
    ASSERT_EQ(of(piece, "TEXT", "WORDS").size(), 1u);
    EXPECT_NEAR(of(piece, "TEXT", "WORDS")[0].number(50), 36.8699, 1e-3);
}

TEST(Dxf2000, SaysMillimetresInItsHeader) {
    // $INSUNITS 4 is mm (SOURCES.md section 9).
    const std::string text = dxf_2000(two_houses());
    EXPECT_NE(text.find("$ACADVER\r\n  1\r\nAC1015\r\n"), std::string::npos);
    EXPECT_NE(text.find("$INSUNITS\r\n 70\r\n4\r\n"), std::string::npos);
}

TEST(Dxf2000, UsesEachHandleOnceAndOwnersThatAreThere) {
    // The format's reference: handles are hexadecimal, unique, below the seed; 0 owns the roots.
    const auto file = read(dxf_2000(two_houses()));
    std::set<std::string> handles;
    unsigned long most = 0;
    for (const Entity& entity : file) {
        if (entity.kind == "SECTION") continue;
        const std::string handle = entity.one(entity.kind == "DIMSTYLE" ? 105 : 5);
        if (handle.empty()) continue;
        EXPECT_TRUE(handles.insert(handle).second) << handle << " twice";
        most = std::max(most, std::stoul(handle, nullptr, 16));
    }
    EXPECT_GT(handles.size(), 40u);
    for (const Entity& entity : file)
        for (const std::string& owner : entity.all(330))
            EXPECT_TRUE(owner == "0" || handles.contains(owner)) << entity.kind;
    const auto& header = file.front();
    EXPECT_GT(std::stoul(header.one(5), nullptr, 16), most) << "the next free one";
}

TEST(Dxf2000, EveryLayerThatIsUsedIsDeclaredOnce) {
    CutterSheet sheet = two_houses();
    for (const Role role :
         {Role::cut, Role::hole, Role::next_edge, Role::datum, Role::arrow, Role::fibre,
          Role::relief, Role::ring, Role::fold, Role::kerf, Role::sketch, Role::tape, Role::frame})
        sheet.drawings[0].lines.push_back({role, {{0, 0}, {1, 1}}, false});
    const auto file = read(dxf_2000(sheet));
    std::set<std::string> declared;
    for (const Entity& layer : of(file, "LAYER"))
        EXPECT_TRUE(declared.insert(layer.one(2)).second) << layer.one(2);
    for (const Entity& entity : file)
        EXPECT_TRUE(entity.one(8).empty() || declared.contains(entity.one(8))) << entity.one(8);
    const std::map<std::string, std::string> colours = {
        {"TEAR_LINE", "1"}, {"CUT_LINE", "1"}, {"HOLES", "1"}, {"KERFS", "5"}, {"NET_LINE", "5"}};
    for (const Entity& layer : of(file, "LAYER")) {
        const auto colour = colours.find(layer.one(2));
        if (colour == colours.end()) continue;
        EXPECT_EQ(layer.one(62), colour->second) << "what is cut is red, what is drawn blue";
    }
}

TEST(Dxf2000, StatesAsManyRecordsAsATableHas) {
    const auto file = read(dxf_2000(two_houses()));
    std::string table;
    int said = 0, found = 0;
    for (const Entity& entity : file) {
        if (entity.kind == "TABLE") {
            table = entity.one(2), said = std::stoi(entity.one(70)), found = 0;
        }
        if (entity.kind == table) ++found;
        if (entity.kind == "ENDTAB") {
            EXPECT_EQ(found, said) << table;
        }
    }
}

TEST(DxfWords, StandUnderEverythingOneUnderTheOther) {
    // Both formats say the job, the copies and the unit 17 mm and more below the lowest line.
    for (const std::string& text : {dxf_r12(two_houses()), dxf_2000(two_houses())}) {
        const auto file = read(text);
        double last = 3.0;  // places move the pieces up by 20: their own lowest line lies at y 20
        std::set<std::string> said;
        bool entities = false;
        for (const Entity& entity : file) {
            if (entity.kind == "SECTION") entities = entity.one(2) == "ENTITIES";
            if (!entities || entity.kind != "TEXT") continue;
            EXPECT_LT(entity.at().y(), last);
            last = entity.at().y();
            said.insert(entity.one(1));
        }
        for (const char* words : {"Style Name: Curlew", "Units: METRIC",
                                  "ALL DIMENSIONS IN MILLIMETRES", "MAKE 3 OF EACH PIECE"})
            EXPECT_TRUE(said.contains(words)) << words;
    }
}

/// A template of a house, as a plan hands it to the cutter formats.
templates::PieceTemplate house_piece(const std::string& id) {
    templates::PieceTemplate piece;
    piece.id = id;
    piece.fabric = "mat 450";
    piece.outline.net.outer = {{-20, -20}, {60, -20}, {60, 30}, {10, 55}, {-20, 30}};
    return piece;
}

Loop2 edge_of(const drawing::Drawing& drawing) {
    for (const auto& line : drawing.lines)
        if (line.closed) return line.points;
    throw std::runtime_error("no edge");
}

TEST(CutterSheets, ByPieceHaveTheirDatumAtTheOriginAndOneNameEach) {
    const std::string title = "Curlew";
    const std::vector<templates::PieceTemplate> pieces = {house_piece("1A"), house_piece("2A")};
    const std::vector<layout::Roll> rolls;
    const auto sheets = cutter_sheets({title, 2, pieces, rolls}, CutterFiles::pieces);
    ASSERT_EQ(sheets.size(), 2u);
    EXPECT_EQ(sheets[1].name, "templates/2A");
    EXPECT_EQ(sheets[1].copies, 2);
    EXPECT_EQ(sheets[1].places, (std::vector<Vec2>{{0, 0}}));
    const auto one = cutter_sheets({title, 2, pieces, rolls}, CutterFiles::one);
    ASSERT_EQ(one.size(), 1u);
    EXPECT_EQ(one[0].drawings.size(), 2u);
    EXPECT_NE(one[0].places[0], one[0].places[1]);
}

TEST(CutterSheets, OnARollLieWhereTheNestHasThemAndMirroredTheWholeClothIsTurnedOver) {
    // By hand: (60, -20) turned by 90 degrees is (20, 60), moved by (200, 100) it is (220, 160).
    // The roll of 500 mm turned over end for end: x becomes 500 - x, so (280, 160).
    const std::string title = "Curlew";
    const std::vector<templates::PieceTemplate> pieces = {house_piece("1A")};
    layout::Roll roll{"Mat 450", 1250.0, 500.0, 0.5, 0.0, 0.0, {}};
    roll.placed = {{"1A", 200.0, 100.0, 90.0}, {"1A", 300.0, 400.0, 0.0}};
    const std::vector<layout::Roll> rolls = {roll, roll};
    for (const bool mirror : {false, true}) {
        CutterOptions options;
        options.mirror = mirror;
        const auto sheets = cutter_sheets({title, 2, pieces, rolls}, CutterFiles::rolls, options);
        ASSERT_EQ(sheets.size(), 2u);
        EXPECT_EQ(sheets[0].name, "rolls/mat-450");
        EXPECT_EQ(sheets[1].name, "rolls/mat-450-2") << "no file over another";
        EXPECT_EQ(sheets[0].copies, 1) << "every copy lies there already";
        ASSERT_EQ(sheets[0].drawings.size(), 2u);
        EXPECT_EQ(sheets[0].drawings[0].name, "1A");
        EXPECT_EQ(sheets[0].drawings[1].name, "1A-2");
        const Vec2 wanted(mirror ? 280.0 : 220.0, 160.0);
        double nearest = 1e9;
        for (const Vec2& p : edge_of(sheets[0].drawings[0]))
            nearest = std::min(nearest, (p - wanted).norm());
        EXPECT_LT(nearest, 1e-9) << mirror;
        EXPECT_EQ(*sheets[0].cloth, Vec2(500.0, 1250.0));
        for (const drawing::Drawing& drawing : sheets[0].drawings)
            for (const Vec2& p : edge_of(drawing)) {
                EXPECT_GE(p.x(), 0.0);
                EXPECT_LE(p.x(), 500.0);
            }
    }
}

TEST(CutterSheets, DrillTheDatumOnlyWhereAsked) {
    const std::string title;
    const std::vector<templates::PieceTemplate> pieces = {house_piece("1A")};
    const std::vector<layout::Roll> rolls;
    const auto drilled = [&](bool drill) {
        CutterOptions options;
        options.drill = drill;
        const auto sheets = cutter_sheets({title, 1, pieces, rolls}, CutterFiles::pieces, options);
        return std::count_if(sheets[0].drawings[0].lines.begin(), sheets[0].drawings[0].lines.end(),
                             [](const auto& line) {
                                 return line.role == Role::drill && line.points[0] == Vec2(0, 0);
                             });
    };
    EXPECT_EQ(drilled(false), 0);
    EXPECT_EQ(drilled(true), 1);
}

TEST(CutterSheets, FramesTheRemnantThatThePiecesLieOn) {
    const std::string title;
    const std::vector<templates::PieceTemplate> pieces = {house_piece("1A")};
    const std::vector<layout::Roll> rolls;
    layout::Roll roll{"mat 450", 200.0, 300.0, 0.5, 0.0, 0.0, {{"1A", 100.0, 100.0, 0.0}}};
    const Loop2 outline = {{0, 0}, {300, 0}, {250, 200}, {0, 200}};
    CutterOptions options;
    options.mirror = true;
    const CutterSheet sheet =
        remnant_sheet({title, 1, pieces, rolls}, roll, outline, "remnants/left", options);
    ASSERT_EQ(sheet.drawings.size(), 2u);
    EXPECT_EQ(edge_of(sheet.drawings[1]), (Loop2{{300, 0}, {0, 0}, {50, 200}, {300, 200}}));
    EXPECT_FALSE(sheet.cloth) << "no roll: nothing is said of its length";
}

}  // namespace
}  // namespace tearline::formats

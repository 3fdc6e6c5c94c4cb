#include "core/drawing/guide_drawing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <string>

#include "core/templates/ring_leaders.h"
#include "tests/unit/drawing/shapes.h"

namespace tearline::drawing {
namespace {

using templates::TemplateSet;

std::vector<std::string> said_by_the_guide(const TemplateSet& set, bool mirrored) {
    std::vector<std::string> said;
    for (const Drawing::Text& text : guide_drawing(set, {mirrored, true}).texts)
        said.push_back(text.text);
    return said;
}

TEST(GuideDrawing, SaysWhatItIsOfWhichJobAndWhichFaceItShows) {
    TemplateSet set = disc_set({60, 72});
    set.title = "Sandpiper dinghy, a long name that takes more than one line";
    set.job_id = "205d4581";
    const auto has = [](const std::vector<std::string>& said, const std::string& text) {
        return std::count(said.begin(), said.end(), text) == 1;
    };
    const auto said = said_by_the_guide(set, false);
    EXPECT_TRUE(has(said, "GRIND GUIDE"));
    EXPECT_TRUE(has(said, "THIS FACE TOWARDS YOU"));
    EXPECT_TRUE(has(said, "Sandpiper dinghy, a long"));
    EXPECT_TRUE(has(said, "model 205d4581"));
    const auto turned = said_by_the_guide(set, true);
    EXPECT_TRUE(has(turned, "MIRRORED: THIS FACE TO THE HULL"));
    EXPECT_FALSE(has(turned, "THIS FACE TOWARDS YOU"));
}

TEST(GuideDrawing, SaysEachDirectionOnceUprightAndClearOfItsLines) {
    // By reading: "UP" again on the tape line beside the arrow that says so tells nothing.
    TemplateSet set = disc_set({60, 72});
    set.guide.marks = {templates::Datum{{0, 0}, 5.0},
                       templates::Arrow{templates::Arrow::To::bow, {10, 0}, {40, 0}, "BOW"},
                       templates::Arrow{templates::Arrow::To::up, {0, 10}, {0, 40}, "UP"}};
    int tapes = 0;
    std::map<std::string, int> said;
    const Drawing guide = guide_drawing(set, {false, true});
    for (const Drawing::Text& text : guide.texts) {
        const bool tape = text.text.find("TAPE") != std::string::npos;
        tapes += tape ? 1 : 0;
        for (const char* way : {"BOW", "UP"}) {
            if (text.text.find(way) == std::string::npos) continue;
            ++said[way];
            EXPECT_TRUE(is_upright(text)) << way;
        }
        if (!tape) continue;
        for (const Drawing::Line& line : guide.lines)
            EXPECT_FALSE(runs_through(line.points, line.closed, text)) << "on a line";
    }
    EXPECT_EQ(tapes, 4) << "at both ends of both lines";
    EXPECT_EQ(said, (std::map<std::string, int>{{"BOW", 1}, {"UP", 1}}));
}

TEST(GuideDrawing, ItsWordsStandBelowAGuideTooSmallForThem) {
    TemplateSet set = disc_set({4, 6});
    set.guide.footprint.outer = circle(12);
    const Drawing guide = guide_drawing(set, {false, true});
    double lowest = 0.0, word = 0.0;
    for (const Drawing::Line& line : guide.lines)
        for (const Vec2& point : line.points) lowest = std::min(lowest, point.y());
    for (const Drawing::Text& text : guide.texts)
        if (text.text == "GRIND GUIDE") word = text.base.y() + text.up.y();
    EXPECT_LT(word, lowest);
}

TEST(GuideDrawing, RingsThatLieOnEachOtherAreToldOnce) {
    // By reading: the last ply ends on the scarf's edge; two names for one line look like two
    // lines.
    TemplateSet set = disc_set({100, 124});
    set.guide.rings[1].text = "PLY 2  DEPTH 0";
    set.guide.rings.push_back({set.guide.rings[1].loops, "SCARF EDGE: DEPTH 0", 0.0, -1});
    for (const bool on_pages : {false, true}) {
        const Drawing guide = guide_drawing(set, {false, on_pages});
        std::map<std::string, int> said;
        for (const Drawing::Text& text : guide.texts) ++said[text.text];
        EXPECT_GE(said["PLY 2  DEPTH 0 = SCARF EDGE: DEPTH 0"], 1);
        EXPECT_EQ(said["PLY 2  DEPTH 0"] + said["SCARF EDGE: DEPTH 0"], 0);
        EXPECT_EQ(std::count_if(guide.lines.begin(), guide.lines.end(),
                                [](const Drawing::Line& line) { return line.role == Role::ring; }),
                  2);
    }
}

bool cross(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
    const auto side = [](const Vec2& p, const Vec2& q, const Vec2& r) {
        return cross2(q - p, r - p) > 0.0;
    };
    return side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b);
}

TEST(GuideDrawing, WithoutRoomNamesEveryRingOutsideWithNoLineThroughAName) {
    // By reading: rings 3.2 mm apart, closer than letters are high; the scarf's edge is also the
    // edge of the last ply and of the gel coat, and has a name for each.
    TemplateSet set = disc_set({40.0});
    set.guide.footprint.outer = circle(56.0);
    set.guide.marks = {templates::Datum{{0, 0}, 5.0},
                       templates::Arrow{templates::Arrow::To::bow, {10, 0}, {30, 0}, "BOW"},
                       templates::Arrow{templates::Arrow::To::up, {0, 10}, {0, 30}, "UP"},
                       templates::Tick{{48, 0}, {64, 0}, "bow"}};
    set.guide.rings = {{{circle(40.0)}, "DAMAGE: GRIND TO 0.050 in", 1.27, 0}};
    for (int ply = 1; ply <= 5; ++ply)
        set.guide.rings.push_back({{circle(40.0 + 3.2 * ply)},
                                   "PLY " + std::to_string(ply) + "  DEPTH 0.040 in",
                                   1.0,
                                   ply});
    set.guide.rings.push_back({{circle(56.0)}, "SCARF EDGE: DEPTH 0", 0.0, -1});
    set.guide.rings.push_back({{circle(56.0)}, "GEL COAT OFF TO HERE", 0.0, -2});
    templates::add_ring_leaders(set.guide);

    const Drawing drawing = guide_drawing(set, {false, true});
    for (const auto& ring : set.guide.rings) {
        ASSERT_EQ(ring.leader.size(), 3u) << ring.text;
        // By closed form: the leader begins on its ring.
        EXPECT_NEAR(ring.leader.front().norm(), ring.loops[0][0].norm(), 0.01) << ring.text;
        int said = 0;
        for (const Drawing::Text& text : drawing.texts) {
            if (text.text != ring.text) continue;
            ++said;
            for (const Drawing::Line& line : drawing.lines)
                EXPECT_FALSE(runs_through(line.points, line.closed, text)) << ring.text;
            for (const Drawing::Text& other : drawing.texts)
                EXPECT_TRUE(&other == &text || !runs_through(corners(box_of(other)), true, text))
                    << ring.text << " and " << other.text;
        }
        EXPECT_EQ(said, 1) << ring.text;
    }
    const auto& rings = set.guide.rings;
    for (std::size_t i = 0; i < rings.size(); ++i)
        for (std::size_t j = i + 1; j < rings.size(); ++j)
            for (int k = 0; k < 2; ++k)
                for (int l = 0; l < 2; ++l)
                    EXPECT_FALSE(cross(rings[i].leader[k], rings[i].leader[k + 1],
                                       rings[j].leader[l], rings[j].leader[l + 1]))
                        << rings[i].text << " and " << rings[j].text;
    for (std::size_t i = 1; i < rings.size(); ++i)
        EXPECT_GT(rings[i].leader.back().y(), rings[i - 1].leader.back().y());
}

/// The texts of a guide with those words, by how far they stand from the datum [mm].
std::vector<double> how_far_out(const Drawing& drawing, const std::string& words) {
    std::vector<double> out;
    for (const Drawing::Text& text : drawing.texts)
        if (text.text == words) out.push_back(box_of(text).middle.norm());
    std::sort(out.begin(), out.end());
    return out;
}

TEST(GuideDrawing, NamesTheSlopeThatRisesToAnOpening) {
    // By reading: where depths are told on the outer rings alone, the floor seems to go on to the
    // fitting. Rings by hand: floor from 80 to 100, one ply's edge at 60 and 120, the scarf's edge
    // at 32 and 140, the opening at 30.
    const auto round = [](double radius) {
        Loop2 loop = circle(radius);
        std::reverse(loop.begin(), loop.end());
        return loop;
    };
    TemplateSet set = disc_set({100.0});
    set.guide.footprint = {circle(160.0), {round(30.0)}};
    set.guide.rings = {{{circle(100.0), round(80.0)}, "DAMAGE: GRIND TO 4 mm", 4.0, 0},
                       {{circle(120.0), round(60.0)}, "PLY 1  DEPTH 2 mm", 2.0, 1},
                       {{circle(140.0), round(32.0)}, "SCARF EDGE: DEPTH 0", 0.0, -1}};
    const Drawing sloped = guide_drawing(set, {false, false});
    const double inner[] = {80.0, 60.0, 32.0}, outer[] = {100.0, 120.0, 140.0};
    for (std::size_t i = 0; i < 3; ++i) {
        // Beside its line: within the height of its letters and the bend of the line along them.
        const auto places = how_far_out(sloped, set.guide.rings[i].text);
        ASSERT_EQ(places.size(), 2u) << set.guide.rings[i].text;
        EXPECT_NEAR(places[0], inner[i], 12.0);
        EXPECT_NEAR(places[1], outer[i], 12.0);
    }
    // Ground as deep up to the edge: all rings end on one line there, which has no depth.
    // Found in the surface of each ply anew, it is the same line but for rounding.
    double rounding = 0.0;
    for (auto& ring : set.guide.rings) ring.loops[1] = round(32.0 + (rounding += 1e-6));
    for (const auto& ring : set.guide.rings)
        EXPECT_EQ(how_far_out(guide_drawing(set, {false, false}), ring.text).size(), 1u);
}

TEST(GuideDrawing, WithRoomNamesItsRingsBesideThem) {
    TemplateSet set = disc_set({100, 112, 124});
    templates::add_ring_leaders(set.guide);
    for (const auto& ring : set.guide.rings) EXPECT_TRUE(ring.leader.empty());
}

}  // namespace
}  // namespace tearline::drawing

#include "core/templates/make_template.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "core/plane/room.h"
#include "tests/support/flat_plan.h"

namespace tearline::templates {

namespace {

/// The first mark of a kind that something holds of.
template <class Kind, class Is>
const Kind& find(const Template& outline, Is is) {
    for (const Mark& mark : outline.marks)
        if (const auto* found = std::get_if<Kind>(&mark); found && is(*found)) return *found;
    throw std::runtime_error("no such mark");
}

template <class Kind>
const Kind& find(const Template& outline) {
    return find<Kind>(outline, [](const Kind&) { return true; });
}

const Arrow& arrow(const Template& outline, Arrow::To to) {
    return find<Arrow>(outline, [to](const Arrow& each) { return each.to == to; });
}

bool says(const Template& outline, const std::string& text) {
    return std::any_of(outline.marks.begin(), outline.marks.end(), [&](const Mark& mark) {
        const auto* label = std::get_if<Label>(&mark);
        return label && label->text.find(text) != std::string::npos;
    });
}

}  // namespace

TEST(MakeTemplate, GivesTheCircleOfAFlatPly) {
    // Closed form: radius = damage radius + edge offset; the tear line 20 mm outside it.
    const Plan plan = test_support::flat_plan({.sectors = 3600});
    const Template& outline = plan.plies[0].pieces[0].outline;
    const double radius = test_support::flat_damage_radius + test_support::flat_offset[0];
    EXPECT_NEAR(area(outline.net), std::numbers::pi * radius * radius, 2.0);
    ASSERT_TRUE(outline.tear);
    EXPECT_FALSE(outline.cut);
    EXPECT_NEAR(outline.area_mm2, std::numbers::pi * (radius + 20) * (radius + 20), 3.0);
    for (const Vec2& p : outline.tear->outer) EXPECT_NEAR(p.norm(), radius + 20.0, 0.01);
}

TEST(MakeTemplate, GivesWovenACutLineOnTheNetLine) {
    const Plan plan = test_support::flat_plan();
    const Template& outline = plan.plies[1].pieces[0].outline;
    EXPECT_FALSE(outline.tear);
    ASSERT_TRUE(outline.cut);
    EXPECT_EQ(outline.cut->outer, outline.net.outer);
}

TEST(MakeTemplate, PutsTheDatumAtTheMiddleOfTheDamage) {
    const Plan plan = test_support::flat_plan({.lopsided = true});
    EXPECT_NEAR(find<Datum>(plan.plies[0].pieces[0].outline).middle.norm(), 0.0, 1e-9);
}

TEST(MakeTemplate, PointsToBowAndUpAsSeenFromOutside) {
    // Starboard side, seen from outside the hull: the bow lies to the right when up is up.
    const Plan plan = test_support::flat_plan();
    const Template& outline = plan.plies[0].pieces[0].outline;
    const auto way = [&](Arrow::To to) {
        return Vec2(arrow(outline, to).tip - arrow(outline, to).tail);
    };
    const Vec2 bow = way(Arrow::To::bow), up = way(Arrow::To::up);
    EXPECT_GT(bow.x(), 0.0);
    EXPECT_NEAR(bow.y(), 0.0, 1e-9);
    EXPECT_GT(cross2(bow, up), 0.0) << "a mirrored template would have up on the other hand";
}

TEST(MakeTemplate, PutsMatchTicksAtTheSamePlaceOfEveryPly) {
    // On the flat panel the four planes cut every net line on the axes.
    const Plan plan = test_support::flat_plan({.lopsided = true});
    for (const templates::LaidPly& ply : plan.plies) {
        const Template& outline = ply.pieces[0].outline;
        const auto middle = [&](const char* towards) {
            const Tick& tick = find<Tick>(
                outline, [towards](const Tick& each) { return each.towards == towards; });
            return Vec2(0.5 * (tick.inner + tick.outer));
        };
        EXPECT_NEAR(middle("bow").y(), 0.0, 3.0);
        EXPECT_GT(middle("bow").x(), 0.0);
        EXPECT_LT(middle("aft").x(), 0.0);
        EXPECT_GT(middle("up").y(), 0.0);
        EXPECT_LT(middle("down").y(), 0.0);
    }
}

TEST(MakeTemplate, DrawsTheEdgeOfTheSmallerPly) {
    const Plan plan = test_support::flat_plan();
    const NextEdge& edge = find<NextEdge>(plan.plies[1].pieces[0].outline);
    EXPECT_TRUE(edge.closed);
    for (const Vec2& p : edge.line)
        EXPECT_NEAR(p.norm(), test_support::flat_damage_radius + test_support::flat_offset[0],
                    1e-6);
}

TEST(MakeTemplate, SaysWhatItIs) {
    const Plan plan = test_support::flat_plan();
    for (const templates::LaidPly& ply : plan.plies) {
        const Template& outline = ply.pieces[0].outline;
        EXPECT_TRUE(says(outline, "PLY " + std::to_string(ply.number)));
        EXPECT_TRUE(says(outline, ply.fabric));
        EXPECT_TRUE(says(outline, "THIS FACE TOWARDS YOU"));
        EXPECT_TRUE(says(outline, "Curlew 6 m workboat"));
        EXPECT_TRUE(says(outline, " m²"));
        EXPECT_EQ(says(outline, "TEAR LINE"), ply.kind == job::FabricKind::mat);
        EXPECT_EQ(says(outline, "CUT LINE"), ply.kind != job::FabricKind::mat);
    }
}

/// The warnings on a template as one text: a line may end anywhere.
std::string warned_of(const Template& outline) {
    std::string all;
    for (const Mark& mark : outline.marks)
        if (const auto* label = std::get_if<Label>(&mark); label && label->warning)
            all += label->text + " ";
    return all;
}

TEST(MakeTemplate, PrintsTheWarningsOfThePiece) {
    const Plan plan = test_support::flat_plan();
    const auto holds = [](const Template& outline) {
        return warned_of(outline).find("shears by up to 31.0 degrees") != std::string::npos;
    };
    EXPECT_TRUE(holds(plan.plies[1].pieces[0].outline))
        << warned_of(plan.plies[1].pieces[0].outline);
    EXPECT_FALSE(holds(plan.plies[0].pieces[0].outline));
}

TEST(LabelTemplate, KeepsTheBlockInsideTheNetLineWhereThereIsRoom) {
    const Plan plan = test_support::flat_plan({.lopsided = true});
    for (const templates::LaidPly& ply : plan.plies) {
        const Template& outline = ply.pieces[0].outline;
        const Label& face = find<Label>(
            outline, [](const Label& label) { return label.text == "THIS FACE TOWARDS YOU"; });
        EXPECT_TRUE(contains(outline.net, face.base));
    }
}

TEST(GrindGuide, CarriesARingForEachEdgeAndTheGelCoatLine) {
    const Plan plan = test_support::flat_plan();
    std::vector<int> plies;
    for (const GrindGuide::Ring& ring : plan.place.grind_guide.rings) plies.push_back(ring.ply);
    EXPECT_EQ(plies, (std::vector<int>{0, 1, -1, 3, -2}));
    EXPECT_EQ(plan.place.grind_guide.rings[1].text, "PLY 1  DEPTH 0.8 mm");
    EXPECT_EQ(plan.place.grind_guide.rings[3].text, "COVER PLY 3: NO GRINDING");
    for (const Vec2& p : plan.place.grind_guide.rings[2].loops.at(0))
        EXPECT_NEAR(p.norm(), test_support::flat_damage_radius + test_support::flat_offset[1],
                    1e-6);
}

TEST(DatumMarks, OneArrowForBowAndUpIsNamedOnceForBoth) {
    // By hand: on a stem that flares, up along the hull is the way of the bow.
    const Plan plan = test_support::flat_plan();
    pieces::Piece piece = plan.plies.front().pieces.front().piece;
    piece.axis_from_degrees = 90.0;
    const auto where = directions(plan.place.frame, {1, 0, 0}, {0, 0, 1});
    Template outline;
    outline.marks = datum_marks(piece, plan.place.frame, where, 0.0);
    const Arrow &bow = arrow(outline, Arrow::To::bow), &up = arrow(outline, Arrow::To::up);
    EXPECT_NEAR((bow.tip - up.tip).norm(), 0.0, 1e-9);
    EXPECT_EQ(bow.text, "BOW AND UP");
    EXPECT_EQ(up.text, "");
}

}  // namespace tearline::templates

#include "core/templates/mark.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tearline::templates {
namespace {

/// A mark of each kind that plan.json knows, as it stands there.
std::vector<MarkFields> one_of_each() {
    std::vector<MarkFields> all = {
        {"datum", {{1, 5}, {7, 5}, {4, 2}, {4, 8}}, "MIDDLE OF DAMAGE"},
        {"datum", {{1, 5}, {7, 5}, {4, 2}, {4, 8}}, "MIDDLE"},
        {"bow", {{1, 2}, {9, 2}}, "BOW AND UP"},
        {"up", {{1, 2}, {9, 2}}, ""},
        {"starboard", {{1, 2}, {9, 2}}, "STARBOARD"},
        {"fibre", {{-4, -4}, {4, 4}}, "ROLL DIRECTION"},
        {"tick", {{60, 0}, {76, 0}}, "aft"},
        {"tape", {{60, 1}, {68, 1}}, "A 412 mm"},
        {"band_section", {{0, 3}, {5, 3}, {9, 0}, {0, 0}}, "FULL THICKNESS"},
        {"next_edge", {{0, 0}, {9, 0}, {9, 9}}, "EDGE OF THE SMALLER PLY"},
        {"next_edge_part", {{0, 0}, {9, 0}, {9, 9}}, "EDGE OF THE SMALLER PLY"},
        {"hull_end", {{0, 0}, {9, 0}}, "HULL ENDS HERE"},
        {"fold", {{0, 0}, {9, 0}}, "BEND ENDS HERE"},
        {"joint", {{0, 0}, {9, 0}}, "JOINT: ENDS MEET HERE"},
        {"kerf", {{-9, 25}, {9, 25}}, "KERF"},
        {"label", {{3, 4}, {3, 8}}, "PLY 1"},
        {"warning", {{3, 4}, {3, 8}}, "! thin"},
    };
    // By its closed form: 24 places on a circle, counter-clockwise from the right.
    MarkFields ring{"press_first", {}, "PRESS DOWN HERE FIRST"};
    for (int i = 0; i < 24; ++i) {
        const double a = 2.0 * std::numbers::pi * i / 24;
        ring.points.push_back(Vec2(10, 20) + 6.0 * Vec2(std::cos(a), std::sin(a)));
    }
    all.push_back(ring);
    return all;
}

TEST(Mark, OfEachKindComesBackFromItsFieldsAsItWas) {
    std::vector<std::size_t> kinds;
    for (const MarkFields& fields : one_of_each()) {
        const auto mark = mark_of(fields);
        ASSERT_TRUE(mark) << fields.kind;
        kinds.push_back(mark->index());
        const MarkFields again = fields_of(*mark);
        EXPECT_EQ(again.kind, fields.kind);
        EXPECT_EQ(again.text, fields.text);
        ASSERT_EQ(again.points.size(), fields.points.size()) << fields.kind;
        for (std::size_t i = 0; i < fields.points.size(); ++i)
            EXPECT_LT((again.points[i] - fields.points[i]).norm(), 1e-12) << fields.kind;
    }
    std::sort(kinds.begin(), kinds.end());
    kinds.erase(std::unique(kinds.begin(), kinds.end()), kinds.end());
    EXPECT_EQ(kinds.size(), std::variant_size_v<Mark>) << "a kind without an example here";
}

TEST(Mark, OfAKindNotKnownHereIsPassedOver) {
    // By the schema: readers ignore what they do not know.
    EXPECT_FALSE(mark_of({"batten", {{0, 0}, {1, 0}}, ""}));
    EXPECT_FALSE(mark_of({"tick", {{0, 0}}, ""}));
}

TEST(Mark, TheDatumIsWhereItsStrokesCross) {
    EXPECT_FALSE(datum_of({Tick{{0, 0}, {1, 0}, "bow"}}));
    const auto datum = mark_of({"datum", {{1, 5}, {7, 5}, {4, 2}, {4, 8}}, ""});
    EXPECT_EQ(datum_of({Tick{{0, 0}, {1, 0}, "bow"}, *datum}), Vec2(4, 5));
}

}  // namespace
}  // namespace tearline::templates

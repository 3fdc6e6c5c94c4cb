#include "core/drawing/polar_drawing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "core/drawing/ring_sheet.h"
#include "tests/unit/drawing/shapes.h"

// Tables to draw a template with a tape and a protractor: read back as a person reads them, row by
// row, and compared with where rays meet lines by closed forms.
namespace tearline::drawing {
namespace {

using templates::TemplateSet;

/// The rows of a drawing as one reads them: words on one base line, from the left.
std::vector<std::vector<std::string>> rows_of(const Drawing& drawing) {
    std::map<double, std::map<double, std::string>> rows;
    for (const Drawing::Text& text : drawing.texts)
        rows[-std::round(100.0 * text.base.y())][text.base.x()] = text.text;
    std::vector<std::vector<std::string>> out;
    for (const auto& [y, cells] : rows) {
        out.emplace_back();
        for (const auto& [x, cell] : cells) out.back().push_back(cell);
    }
    return out;
}

void expect_apart(const Drawing& drawing) {
    const auto box = [](const Drawing::Text& text) {
        // Letters alone: rows stand closer than with the paper about them.
        const double height = text.up.norm();
        return plane::Box{text.base, text.base + Vec2(text_width(text.text, height), height)};
    };
    for (std::size_t i = 0; i < drawing.texts.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            EXPECT_FALSE(box(drawing.texts[i]).meets(box(drawing.texts[j])))
                << drawing.texts[j].text << " | " << drawing.texts[i].text;
}

TemplateSet one_piece(const Region2& net, std::optional<Region2> tear = {}) {
    TemplateSet set = disc_set({100});
    set.ends = {"bow", "up", "aft", "down"};
    set.pieces[0].outline.net = net;
    set.pieces[0].outline.tear = std::move(tear);
    set.pieces[0].outline.marks = {templates::Datum{{0, 0}, 5.0}};
    return set;
}

Drawing table_of(const TemplateSet& set) {
    return polar_drawing(set.pieces[0], set);
}

Loop2 square(double half, const Vec2& at = {0, 0}) {
    return {at + Vec2(-half, -half), at + Vec2(half, -half), at + Vec2(half, half),
            at + Vec2(-half, half)};
}

TEST(PolarDrawing, OfADiscHasItsRadiusInTwentyFourDirections) {
    const Drawing table = table_of(one_piece({circle(100), {}}, Region2{circle(120), {}}));
    const auto rows = rows_of(table);
    ASSERT_EQ(rows.size(), 3u + 24u);
    EXPECT_EQ(rows[0], std::vector<std::string>{"Piece 1A from the datum, mm"});
    EXPECT_NE(rows[1][0].find("up at 90"), std::string::npos) << rows[1][0];
    EXPECT_EQ(rows[2], (std::vector<std::string>{"net line", "tear line"}));
    for (int k = 0; k < 24; ++k) {
        const std::string angle = std::to_string(15 * k) + "\u00b0";
        EXPECT_EQ(rows[static_cast<std::size_t>(3 + k)],
                  (std::vector<std::string>{angle, "100.0", angle, "120.0"}));
    }
    expect_apart(table);
}

TEST(PolarDrawing, CountsFromTheDatumWhereverThePieceLies) {
    TemplateSet set = one_piece({circle(100, {300, -50}), {}});
    set.pieces[0].outline.marks = {templates::Datum{{300, -50}, 5.0}};
    for (const auto& row : rows_of(table_of(set)))
        if (row.size() == 2) {
            EXPECT_EQ(row[1], "100.0") << row[0];
        }
}

TEST(PolarDrawing, OfASquareHasItsSidesAndCorners) {
    // By hand: a side of 200 mm is met at 100 / cos of the angle from its middle, a corner stands
    // 100 sqrt(2) = 141.4 away; and once more as a corner with a tenth of a degree.
    const Drawing table = table_of(one_piece({square(100), {}}));
    const auto rows = rows_of(table);
    std::map<std::string, std::string> said;
    for (const auto& row : rows)
        if (row.size() == 2) said[row[0]] = row[1];
    EXPECT_EQ(said["0\u00b0"], "100.0");
    EXPECT_EQ(said["15\u00b0"], "103.5");
    EXPECT_EQ(said["30\u00b0"], "115.5");
    EXPECT_EQ(said["75\u00b0"], "103.5");
    for (const char* corner :
         {"45.0\u00b0 corner", "135.0\u00b0 corner", "225.0\u00b0 corner", "315.0\u00b0 corner"})
        EXPECT_EQ(said[corner], "141.4") << corner;
    expect_apart(table);
}

TEST(PolarDrawing, ShowsEveryCrossingNearestFirstAndStaysReadable) {
    // By hand along 0 degrees: openings of 10 mm radius at 40 and at 70 mm and the edge at 100.
    const Region2 net{circle(100), {circle(10, {40, 0}), circle(10, {70, 0})}};
    for (const Units units : {Units::metric, Units::us}) {
        TemplateSet set = one_piece(net, Region2{circle(120), net.holes});
        set.units = units;
        const Drawing table = table_of(set);
        const auto rows = rows_of(table);
        ASSERT_GT(rows.size(), 4u);
        const std::vector<std::string> metric = {"0\u00b0", "30.0 / 50.0 / 60.0 / 80.0 / 100.0",
                                                 "0\u00b0", "30.0 / 50.0 / 60.0 / 80.0 / 120.0"};
        // 30 / 25.4 = 1.1811 = 1 6/32 at the nearest, 50: 1.9685 = 1 31/32, 60: 2.3622 = 2 12/32,
        // 80: 3.1496 = 3 5/32, 100: 3.9370 = 3 30/32, 120: 4.7244 = 4 23/32.
        const std::vector<std::string> us = {"0\u00b0", "1 3/16, 1 31/32, 2 3/8, 3 5/32, 3 15/16",
                                             "0\u00b0", "1 3/16, 1 31/32, 2 3/8, 3 5/32, 4 23/32"};
        EXPECT_EQ(rows[3], units == Units::metric ? metric : us);
        expect_apart(table);
    }
}

TEST(PolarDrawing, HasADashWhereARayMeetsNothing) {
    // A piece beside its datum: seen from 60 mm away a disc of 50 mm fills asin(50 / 60) = 56
    // degrees to either side.
    const auto rows = rows_of(table_of(one_piece({circle(50, {60, 0}), {}})));
    std::map<std::string, std::string> said;
    for (const auto& row : rows)
        if (row.size() == 2) said[row[0]] = row[1];
    EXPECT_EQ(said["0\u00b0"], "10.0 / 110.0");
    EXPECT_NE(said["45\u00b0"], "-");
    EXPECT_EQ(said["60\u00b0"], "-");
    EXPECT_EQ(said["180\u00b0"], "-");
}

TEST(PolarDrawing, FramesAllItsWords) {
    for (const Units units : {Units::metric, Units::us}) {
        TemplateSet set = one_piece({square(80, {10, 0}), {circle(10, {40, 0})}},
                                    Region2{square(100, {10, 0}), {}});
        set.units = units;
        set.pieces[0].id = "12345-67890-port-bow-10B";
        const Drawing table = table_of(set);
        ASSERT_EQ(table.lines.size(), 1u);
        EXPECT_TRUE(table.lines[0].closed);
        const plane::Box frame = plane::box_round(table.lines[0].points);
        for (const Drawing::Text& text : table.texts) {
            const Loop2 room = corners(box_of(text));
            for (const Vec2& corner : room)
                EXPECT_TRUE((corner - frame.low).minCoeff() >= -1e-9 &&
                            (frame.high - corner).minCoeff() >= -1e-9)
                    << text.text;
        }
    }
}

TEST(PolarDrawing, OfClothSaysCutAndOfABareOutlineNetAlone) {
    TemplateSet set = one_piece({circle(100), {}});
    EXPECT_EQ(rows_of(table_of(set))[2], std::vector<std::string>{"net line"});
    set.pieces[0].outline.cut = Region2{circle(105), {}};
    EXPECT_EQ(rows_of(table_of(set))[2], (std::vector<std::string>{"net line", "cut line"}));
    EXPECT_EQ(table_of(set).name, "polar 1A");
}

/// The table of a ring sheet: what each ply says in a direction.
std::map<std::string, std::vector<std::string>> ring_rows(const TemplateSet& set) {
    const auto sheet = ring_sheet(set);
    EXPECT_TRUE(sheet);
    std::map<std::string, std::vector<std::string>> out;
    for (auto& row : rows_of(ring_sheet_drawing(set, *sheet, false)))
        if (row.size() > 1 && row[0].ends_with("\u00b0"))
            out[row[0]] = {row.begin() + 1, row.end()};
    return out;
}

/// Plies round an opening that each leaves 4 mm wider than the one before.
TemplateSet with_opening(const std::vector<Loop2>& nets, const Vec2& middle) {
    TemplateSet set = disc_set({100, 112});
    for (std::size_t k = 0; k < 2; ++k) {
        const Region2 net{nets[k], {circle(15.0 + 4.0 * double(k), middle)}};
        set.pieces[k].outline.net = net;
        set.pieces[k].outline.tear = Region2{circle(400.0 + 6.0 * double(k)), net.holes};
        set.guide.rings[k].loops = {net.outer, net.holes[0]};
    }
    return set;
}

TEST(RingSheetTable, HasEveryCrossingOfAnOpeningAndStaysReadable) {
    // By hand along 0 degrees: openings of 15 and 19 mm radius at 180 mm, nets of 220 and 232 mm.
    for (const Units units : {Units::metric, Units::us}) {
        TemplateSet set = with_opening({circle(220), circle(232)}, {180, 0});
        set.units = units;
        const auto rows = ring_rows(set);
        ASSERT_EQ(rows.size(), 24u);
        const std::vector<std::string> metric = {"165.0/195.0/220.0", "161.0/199.0/232.0"};
        // By 25.4: 6.4961, 7.6772, 8.6614, 6.3386, 7.8346 and 9.1339 in, to the nearest sixteenth.
        const std::vector<std::string> us = {"6 1/2, 7 11/16, 8 11/16", "6 5/16, 7 13/16, 9 1/8"};
        EXPECT_EQ(rows.at("0\u00b0"), units == Units::metric ? metric : us);
        const Drawing sheet = ring_sheet_drawing(set, *ring_sheet(set), false);
        Drawing table;
        for (const Drawing::Text& text : sheet.texts)
            if (text.from_left) table.texts.push_back(text);
        expect_apart(table);
    }
}

TEST(RingSheetTable, KeepsWhatLiesBeforeACornerInItsOwnDirection) {
    // By hand: along 45 degrees an opening of 15 mm radius at 180 mm lies before the corner of a
    // square, at 220 sqrt(2) = 311.1 mm; the row of the corner must not hide it.
    const double there = 180.0 / std::sqrt(2.0);
    EXPECT_EQ(ring_rows(with_opening({square(220), square(232)}, {there, there})).at("45\u00b0"),
              (std::vector<std::string>{"165.0/195.0/311.1", "161.0/199.0/328.1"}));
}

}  // namespace
}  // namespace tearline::drawing

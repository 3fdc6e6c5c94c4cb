#include "core/job_sheet/place_picture.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <regex>

#include "core/job_sheet/roll_picture.h"
#include "core/job_sheet/strain_cells.h"
#include "core/job_sheet/template_thumbnail.h"
#include "core/job_sheet/torn_band_picture.h"
#include "tests/support/words_in.h"
#include "tests/unit/job_sheet/sheet_plan.h"

namespace tearline::job_sheet {
namespace {

using test::says;

struct Word {
    Vec2 at{0, 0};
    std::string text;
};

/// The words of a picture and where each stands.
std::vector<Word> words_of(const std::string& svg) {
    std::vector<Word> out;
    const std::regex text("<text x=\"([-\\d.]+)\" y=\"([-\\d.]+)\"[^>]*>([^<]*)</text>");
    for (std::sregex_iterator i(svg.begin(), svg.end(), text), end; i != end; ++i)
        out.push_back({Vec2(std::stod((*i)[1]), std::stod((*i)[2])), (*i)[3]});
    return out;
}

Word word(const std::string& svg, const std::string& text) {
    for (const Word& each : words_of(svg))
        if (each.text == text) return each;
    throw std::runtime_error("no word " + text);
}

/// The points of path data "Mx yLx y...".
std::vector<Vec2> points_of(const std::string& d) {
    std::vector<Vec2> out;
    const std::regex point("[ML]([-\\d.]+) ([-\\d.]+)");
    for (std::sregex_iterator i(d.begin(), d.end(), point), end; i != end; ++i)
        out.emplace_back(std::stod((*i)[1]), std::stod((*i)[2]));
    return out;
}

/// A plan of one disc on a starboard side with nothing round it.
Plan disc(double radius) {
    Plan plan;
    plan.place.frame.normal = Vec3(0, -1, 0);
    plan.place.frame.x = Vec3(1, 0, 0);
    plan.place.frame.y = Vec3(0, 0, 1);
    Region3 region;
    for (int i = 0; i < 72; ++i) {
        const double a = i * std::numbers::pi / 36.0;
        region.outer.emplace_back(radius * std::cos(a), 0.0, radius * std::sin(a));
    }
    plan.place.footprint = {region};
    plan.place.damage.outer = region.outer;
    return plan;
}

/// The rule of the close-up: where it begins and ends, and what it says.
std::array<double, 2> rule_of(const std::string& svg) {
    const std::regex rule("stroke-width=\"0.7\" fill=\"none\" d=\"([^\"]*)\"");
    std::smatch found;
    if (!std::regex_search(svg, found, rule)) throw std::runtime_error("no rule");
    const std::vector<Vec2> points = points_of(found[1]);
    return {points.at(1).x(), points.at(2).x()};
}

TEST(PlacePicture, RuleIsAsLongAsItSaysAndLiesInThePictureWhole) {
    // By the scale that the footprint is drawn at: its outline is 2 r wide on the hull.
    for (const auto units : {job::Units::metric, job::Units::us})
        for (const double radius : {20.0, 45.0, 60.0, 300.0}) {
            Plan plan = disc(radius);
            plan.job.display_units = units;
            const plane::Box window{Vec2(0, 0), Vec2(106, 108)};
            const std::string svg = hull_close_up(plan, window, 14.0);
            const std::regex path("class=\"footprint\"[^>]* d=\"([^\"]*)\"");
            std::smatch found;
            ASSERT_TRUE(std::regex_search(svg, found, path));
            const plane::Box drawn = plane::box_round(points_of(found[1]));
            const double scale = drawn.size().x() / (2.0 * radius);
            const auto [from, to] = rule_of(svg);
            const bool metric = units == job::Units::metric;
            const bool whole = says(svg, metric ? ">100 mm on the hull<" : ">4 in on the hull<");
            ASSERT_TRUE(whole || says(svg, metric ? ">50 mm on the hull<" : ">2 in on the hull<"));
            const double on_hull = metric ? (whole ? 100.0 : 50.0) : (whole ? 101.6 : 50.8);
            EXPECT_NEAR(to - from, scale * on_hull, 0.02) << radius;
            EXPECT_GE(from, window.low.x()) << radius << ": cut off by the paper's edge";
            EXPECT_LE(to, window.high.x());
        }
}

TEST(PlacePicture, ArrowsPointToBowAndUpAsTheyAreSeen) {
    // Starboard from outside: the bow to the right of the paper, up to its top. Port: to the left.
    Plan plan = disc(100.0);
    const plane::Box window{Vec2(0, 0), Vec2(106, 108)};
    for (const double side : {1.0, -1.0}) {
        plan.place.frame.normal = Vec3(0, -side, 0);
        plan.place.frame.x = Vec3(side, 0, 0);
        const std::string svg = hull_close_up(plan, window, 14.0);
        const Vec2 bow = word(svg, "BOW").at, up = word(svg, "UP").at;
        EXPECT_GT(side * (bow.x() - 30.0), 14.0);
        EXPECT_NEAR(up.x(), 30.0, 0.01);
        EXPECT_LT(up.y(), bow.y() - 14.0);
    }
    // One looks along up at a bottom: no arrow for it.
    plan.place.frame.normal = Vec3(0, 0, -1);
    plan.place.frame.x = Vec3(0, -1, 0);
    plan.place.frame.y = Vec3(1, 0, 0);
    EXPECT_THROW((void)word(hull_close_up(plan, window, 14.0), "UP"), std::runtime_error);
    EXPECT_NO_THROW((void)word(hull_close_up(plan, window, 14.0), "BOW"));
}

TEST(PlacePicture, NumbersOfPliesLieOnTheirRingsAndNotOnEachOther) {
    Plan plan = disc(150.0);
    for (int k = 1; k <= 8; ++k) {
        templates::LaidPly ply = bare_ply(k, "mat");
        ply.edge_offset_mm = 10.0 * k;
        const Plan ring = disc(60.0 + 10.0 * k);
        ply.outlines_3d = ring.place.footprint;
        plan.plies.push_back(ply);
    }
    const std::string svg = hull_close_up(plan, {Vec2(0, 0), Vec2(106, 108)}, 14.0);
    const double scale = 80.0 / 300.0;  // 106 and 108 mm less the pads, by the footprint's 300 mm
    std::vector<Vec2> taken;
    for (int k = 1; k <= 8; ++k) {
        const Vec2 at = word(svg, std::to_string(k)).at - Vec2(0, 1.25) - Vec2(53, 54);
        EXPECT_NEAR(at.norm(), (60.0 + 10.0 * k) * 78.0 / 300.0, 0.1) << k << " " << scale;
        for (const Vec2& other : taken) EXPECT_GE((at - other).norm(), 5.2) << k;
        taken.push_back(at);
    }
}

TEST(PlacePicture, DrawsTheWidestPlyFirstSoThatNoneIsHidden) {
    Plan plan = disc(150.0);
    for (const double offset : {10.0, 40.0, 25.0}) {  // the order of laying is another
        templates::LaidPly ply = bare_ply(static_cast<int>(plan.plies.size()) + 1, "mat");
        ply.edge_offset_mm = offset;
        ply.outlines_3d = disc(60.0 + offset).place.footprint;
        plan.plies.push_back(ply);
    }
    const std::string svg = hull_close_up(plan, {Vec2(0, 0), Vec2(106, 108)}, 14.0);
    const std::regex path(
        "<path fill=\"#[0-9a-f]{6}\" stroke=\"#fff\" stroke-width=\"0.35\" "
        "d=\"([^\"]*)\"");
    std::vector<double> widths;
    for (std::sregex_iterator i(svg.begin(), svg.end(), path), end; i != end; ++i)
        widths.push_back(plane::box_round(points_of((*i)[1])).size().x());
    ASSERT_EQ(widths.size(), 3u);
    EXPECT_GT(widths[0], widths[1]);
    EXPECT_GT(widths[1], widths[2]);
}

TEST(PlacePicture, RingsASmallRepairOnTheWholeHullAndNoLargeOne) {
    Plan plan = disc(30.0);
    for (const double x : {-3000.0, 3000.0})
        for (const double z : {-700.0, 700.0}) plan.place.view.far_vertices.emplace_back(x, 0, z);
    plan.place.view.far_triangles = {{0, 1, 2}, {1, 3, 2}};
    const plane::Box window{Vec2(110, 0), Vec2(180, 58)};
    EXPECT_TRUE(says(whole_hull(plan, window), "<circle"));
    EXPECT_FALSE(says(whole_hull(plan, window), "<text x=\"110\""));
    plan.place.footprint = disc(900.0).place.footprint;
    EXPECT_FALSE(says(whole_hull(plan, window), "<circle"));
}

TEST(PictureLegend, HasALineForEachThingThatIsDrawn) {
    Plan plan = disc(100.0);
    EXPECT_EQ(words_of(picture_legend(plan, {0, 0})).size(), 4u);
    plan.plies = {bare_ply(1, "roving 600", job::FabricKind::woven),
                  bare_ply(2, "roving 600", job::FabricKind::woven)};
    plan.plies[0].pieces[0].piece.shear_max = 4.0;
    plan.plies[1].pieces[0].piece.shear_max = 9.0;  // the net shown is that of ply 2
    EXPECT_TRUE(says(picture_legend(plan, {0, 0}), "yarns of ply 2, every 25 mm"));
    plan.job.display_units = job::Units::us;
    EXPECT_TRUE(says(picture_legend(plan, {0, 0}), "yarns of ply 2, every 31/32 in"));
    plan.plies[0].pieces[0].piece.seams = {{{0, 0}, {1, 0}}};
    plan.plies[0].pieces[0].piece.cuts.resize(1);
    const std::vector<Word> lines = words_of(picture_legend(plan, {0, 0}));
    ASSERT_EQ(lines.size(), 7u);
    for (std::size_t i = 1; i < lines.size(); ++i)
        EXPECT_NEAR(lines[i].at.y() - lines[i - 1].at.y(), 7.0, 1e-9) << "one under the other";
}

TEST(StrainScale, EndsAtTheNextRoundFigureAboveEveryPiece) {
    // By hand: 1, 2, 5 and their tens.
    Plan plan;
    plan.plies = {bare_ply(1, "mat")};
    const auto top = [&](double strain) {
        plan.plies[0].pieces[0].piece.strain_max = strain;
        return strain_scale(plan).strain_top;
    };
    EXPECT_DOUBLE_EQ(top(0.0), 0.01);
    EXPECT_DOUBLE_EQ(top(0.0183), 0.02);
    EXPECT_DOUBLE_EQ(top(0.021), 0.05);
    EXPECT_DOUBLE_EQ(top(0.051), 0.1);
    const auto shear = [&](double degrees) {
        plan.plies[0].pieces[0].piece.shear_max = degrees;
        return strain_scale(plan).shear_top;
    };
    EXPECT_DOUBLE_EQ(shear(3.0), 10.0);
    EXPECT_DOUBLE_EQ(shear(10.5), 20.0);
    EXPECT_DOUBLE_EQ(shear(31.0), 50.0);
}

TEST(StrainScaleBar, SaysWhatItsQuartersStandForMatOverCloth) {
    // 2 % and 20 degrees at its right end, 80 mm from its left: a quarter is 0.5 % and 5 degrees.
    Plan plan;
    plan.plies = {bare_ply(1, "mat"), bare_ply(2, "roving", job::FabricKind::woven)};
    plan.plies[0].pieces[0].piece.strain_max = 0.0183;
    plan.plies[1].pieces[0].piece.shear_max = 12.0;
    plan.plies[1].pieces[0].piece.shear_degrees = {12.0};
    const std::string svg = strain_scale_bar(plan, {4, 5});
    for (const auto& [text, x, y] : {std::tuple{"0 %", 4.0, 13.2},
                                     {"0.5 %", 24.0, 13.2},
                                     {"2 %", 84.0, 13.2},
                                     {"5°", 24.0, 17.0},
                                     {"20°", 84.0, 17.0}}) {
        EXPECT_NEAR(word(svg, text).at.x(), x, 1e-9) << text;
        EXPECT_NEAR(word(svg, text).at.y(), y, 1e-9) << text;
    }
    plan.plies.erase(plan.plies.begin());
    EXPECT_TRUE(says(strain_scale_bar(plan, {4, 5}), "What the cloth must shear"));
    EXPECT_NEAR(word(strain_scale_bar(plan, {4, 5}), "5°").at.y(), 13.2, 1e-9);
}

TEST(MostText, IsDegreesOfClothAndPercentOfMat) {
    pieces::Piece piece;
    piece.strain_max = 0.01834;
    EXPECT_EQ(most_text(piece), "1.83 %");
    piece.shear_max = 4.24;
    EXPECT_EQ(most_text(piece), "4.2°");
}

TEST(RollPicture, LaysEachPieceTurnedAndMovedWithTheRollToTheRight) {
    // By hand: a roll of 500 x 250 mm, 30 mm high: 0.12 to one. A piece of 100 x 50 mm turned by a
    // quarter reaches from x -50 to 0 and y 0 to 100 of its own; moved by (250, 20) it covers x 200
    // to 250 and y 20 to 120, on the picture x 24 to 30 and y 0.12 (250 - 120) = 15.6 to 27.6.
    Plan plan;
    plan.plies = {bare_ply(1, "mat")};
    plan.plies[0].pieces[0].outline.net.outer = {{0, 0}, {100, 0}, {100, 50}, {0, 50}};
    layout::Roll roll{"mat", 250.0, 500.0, 0.5, 0.0, 0.0, {{"1A", 250.0, 20.0, 90.0}}};
    const std::string svg = roll_picture(plan, roll, 30.0);
    std::smatch found;
    ASSERT_TRUE(std::regex_search(svg, found, std::regex(" d=\"([^\"]*)\"")));
    const plane::Box box = plane::box_round(points_of(found[1]));
    EXPECT_NEAR((box.low - Vec2(24.0, 15.6)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((box.high - Vec2(30.0, 27.6)).norm(), 0.0, 1e-9);
    EXPECT_EQ(word(svg, "1A").at.x(), 27.0);
    // Long rolls are held to 168 mm of paper.
    roll.length_mm = 16'800.0;
    EXPECT_TRUE(says(roll_picture(plan, roll, 30.0), "width=\"169mm\" height=\"3.5mm\""));
    roll.placed.clear();
    EXPECT_EQ(roll_picture(plan, roll, 30.0), "");
}

TEST(TornBandPicture, NamesNetLineAndTearLineOverTheirOwnLines) {
    const std::string svg = torn_band_picture({}, 20.0);
    const std::regex upright("M([\\d.]+) [\\d.]+L\\1 [\\d.]+\"");  // the same x twice
    std::vector<double> lines;
    for (std::sregex_iterator i(svg.begin(), svg.end(), upright), end; i != end; ++i)
        lines.push_back(std::stod((*i)[1]));
    ASSERT_EQ(lines.size(), 2u);
    EXPECT_EQ(word(svg, "net line").at.x(), lines[0]);
    EXPECT_EQ(word(svg, "tear line").at.x(), lines[1]);
    // Full thickness to the net line, nothing at the tear line: the section's own four corners.
    std::smatch found;
    ASSERT_TRUE(std::regex_search(svg, found, std::regex("<path d=\"([^\"]*)Z\"")));
    const std::vector<Vec2> section = points_of(found[1]);
    ASSERT_EQ(section.size(), 4u);
    EXPECT_EQ(section[1].x(), lines[0]);
    EXPECT_EQ(section[2].x(), lines[1]);
    EXPECT_LT(section[1].y(), section[2].y());
    EXPECT_EQ(section[2].y(), section[3].y());
    EXPECT_NEAR(word(svg, "thinned by hand over 20 mm (25/32 in)").at.x(),
                0.5 * (lines[0] + lines[1]), 1e-9);
}

}  // namespace
}  // namespace tearline::job_sheet

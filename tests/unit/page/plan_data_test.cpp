#include "core/page/plan_data.h"

#include <gtest/gtest.h>

#include <cstring>
#include <nlohmann/json.hpp>

#include "core/job_sheet/colour_scale.h"
#include "core/warnings/warning.h"

// What a page's script is given of a plan, read back by another reader of JSON and a decoder of
// base64 of the test's own (RFC 4648).
namespace tearline::page::plan_data_test {
namespace {

using nlohmann::json;

std::string decoded(const std::string& text) {
    const std::string digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    unsigned bits = 0;
    int count = 0;
    for (const char c : text) {
        if (c == '=') break;
        bits = bits << 6U | static_cast<unsigned>(digits.find(c));
        count += 6;
        if (count < 8) continue;
        count -= 8;
        out += static_cast<char>(bits >> count & 0xffU);
    }
    return out;
}

std::vector<int> levels_of(const json& holder) {
    std::vector<int> out;
    for (const char c : decoded(holder["levels"])) out.push_back(static_cast<unsigned char>(c));
    return out;
}

/// Places as a page has them: float32 from its middle, here the origin.
std::vector<Vec3> places_of(const std::string& encoded) {
    const std::string bytes = decoded(encoded);
    std::vector<float> numbers(bytes.size() / sizeof(float));
    std::memcpy(numbers.data(), bytes.data(), numbers.size() * sizeof(float));
    std::vector<Vec3> out;
    for (std::size_t i = 0; i + 2 < numbers.size(); i += 3)
        out.emplace_back(numbers[i], numbers[i + 1], numbers[i + 2]);
    return out;
}

json told(const Plan& plan) {
    DataWriter data(Vec3(0, 0, 0));
    write_plan_data(data, plan);
    return json::parse(data.take());
}

/// Three triangles of one ply, strained or sheared as given.
templates::LaidPly ply(int number, double edge_offset) {
    templates::LaidPly made;
    made.number = number;
    made.fabric = "mat 450";
    made.thickness_mm = 1.0;
    made.edge_offset_mm = edge_offset;
    made.pieces.resize(1);
    pieces::Piece& piece = made.pieces[0].piece;
    piece.id = std::to_string(number) + "A";
    piece.lay.position = {{0, 0, 0}, {50, 0, 0}, {0, 50, 0}, {50, 50, 0}, {90, 90, 0}};
    piece.lay.triangle = {{0, 1, 2}, {1, 3, 2}, {1, 4, 3}};
    return made;
}

Plan plan_of(std::vector<templates::LaidPly> plies) {
    Plan plan;
    plan.place.frame.normal = Vec3(0, 0, 1);
    plan.place.frame.y = Vec3(0, 1, 0);
    plan.plies = std::move(plies);
    return plan;
}

TEST(PlanData, ShadesStrainByShareOfTheScaleWhicheverWayItGoes) {
    // By hand: the most is 1.6 %, so the scale ends at 2 %: 0, 1 and -2 % are shares 0, 0.5 and 1
    // of 31 steps, and what strains more than its top has the top's colour.
    Plan plan = plan_of({ply(1, 10.0)});
    pieces::Piece& piece = plan.plies[0].pieces[0].piece;
    piece.strain_max = 0.016;
    piece.stretch = {{{1.0, 1.0}}, {{1.01, 0.995}}, {{0.98, 1.0}}};
    json data = told(plan);
    EXPECT_EQ(levels_of(data["layers"][0]["pieces"][0]), (std::vector<int>{0, 16, 31}));
    EXPECT_EQ(data["scale"]["most"], "2 %");
    EXPECT_EQ(data["scale"]["colours"].size(), 32u);
    EXPECT_EQ(data["scale"]["colours"][0], job_sheet::strain_colour(0.0));
    EXPECT_EQ(data["scale"]["colours"][31], job_sheet::strain_colour(1.0));
    piece.stretch[1] = {{1.9, 1.0}};
    EXPECT_EQ(levels_of(told(plan)["layers"][0]["pieces"][0])[1], 31);
}

TEST(PlanData, ShadesClothByItsShearAndSaysBothScales) {
    // 10 degrees are the least top of the scale: 5 and -10 are half and all of it.
    Plan plan = plan_of({ply(1, 10.0), ply(2, 20.0)});
    pieces::Piece& mat = plan.plies[0].pieces[0].piece;
    mat.stretch.assign(3, {{1.0, 1.0}});
    pieces::Piece& cloth = plan.plies[1].pieces[0].piece;
    cloth.shear_degrees = {0.0, 5.0, -10.0};
    cloth.shear_max = 10.0;
    const json data = told(plan);
    EXPECT_EQ(levels_of(data["layers"][1]["pieces"][0]), (std::vector<int>{0, 16, 31}));
    EXPECT_EQ(data["scale"]["most"], "1 %, 10\u00b0");
}

TEST(PlanData, TintsPliesFromTheOutermostInward) {
    const Plan plan = plan_of({ply(1, 10.0), ply(2, 30.0), ply(3, 20.0)});
    const json data = told(plan);
    EXPECT_EQ(data["layers"][1]["colour"], job_sheet::ply_colour(0.0)) << "farthest out, lightest";
    EXPECT_EQ(data["layers"][2]["colour"], job_sheet::ply_colour(0.5));
    EXPECT_EQ(data["layers"][0]["colour"], job_sheet::ply_colour(1.0));
    EXPECT_EQ(told(plan_of({ply(1, 10.0)}))["layers"][0]["colour"], job_sheet::ply_colour(0.5));
}

/// A flat dish of one deep corner: 6, 3 and 0 mm.
plan::DishView dish() {
    plan::DishView view;
    view.points = {{0, 0, 0}, {50, 0, 0}, {0, 50, 0}};
    view.triangles = {{0, 1, 2}};
    view.depth = {6.0, 3.0, 0.0};
    return view;
}

TEST(PlanData, GrindsTheDishIntoTheHullAwayFromWhoLaysIt) {
    // The normals of a flat dish all point to the laying side, +z: what is ground lies at -depth.
    Plan plan = plan_of({ply(1, 10.0)});
    plan.place.dish_view = dish();
    const json part = told(plan)["parts"][0];
    const auto ground = places_of(part["dish"]["places"]);
    ASSERT_EQ(ground.size(), 3u);
    EXPECT_EQ(ground[0], Vec3(0, 0, -6));
    EXPECT_EQ(ground[1], Vec3(50, 0, -3));
    EXPECT_EQ(ground[2], Vec3(0, 50, 0));
    // A triangle has the mean of its corners: 3 of 6 mm is half of 31 steps.
    EXPECT_EQ(levels_of(part["dish"]), std::vector<int>{16});
    EXPECT_EQ(part["lift"], 0.0);
}

TEST(PlanData, SaysHowDeepItIsInThousandthsOfAnInch) {
    // 6 mm / 25.4 = 0.2362 in; the sheet's rule has depths in thousandths.
    Plan plan = plan_of({ply(1, 10.0)});
    EXPECT_FALSE(told(plan)["parts"][0].contains("dish")) << "nothing is ground";
    plan.place.dish_view = dish();
    EXPECT_EQ(told(plan)["deepest"], "6.0 mm");
    EXPECT_EQ(told(plan)["deepest_mm"], 6.0);
    plan.job.display_units = Units::us;
    EXPECT_EQ(told(plan)["deepest"], "0.236 in");
}

TEST(PlanData, LiftsTheDishUnderAnotherOntoItsFloor) {
    // Two skins 20 mm apart, both laid from above: the lower dish, 6 mm deep, is lifted by 20 mm
    // and by as much as it is deeper than the upper one (5 mm), and 0.2 mm over.
    Plan plan = plan_of({ply(1, 10.0), ply(2, 10.0)});
    plan.parts.resize(2);
    for (std::size_t k = 0; k < 2; ++k) {
        plan.parts[k].place = plan.place;
        plan.parts[k].place.dish_view = dish();
        plan.parts[k].plies = {plan.plies[k]};
    }
    plan.parts[0].place.frame.middle = Vec3(0, 0, -20);
    plan.parts[1].place.dish_view.depth = {5.0, 5.0, 5.0};
    const json data = told(plan);
    EXPECT_NEAR(data["parts"][0]["lift"], 20.0 + 6.0 - 5.0 + 0.2, 1e-9);
    EXPECT_EQ(data["parts"][1]["lift"], 0.0);
    EXPECT_EQ(data["deepest_mm"], 6.0);
}

TEST(PlanData, ReachesToTheFarthestOfWhatIsTouched) {
    Plan plan = plan_of({ply(1, 10.0)});
    plan.place.frame.middle = Vec3(100, 0, 0);
    Region3 footprint;
    footprint.outer = {{100, 0, 0}, {130, 40, 0}, {70, 0, 0}};
    footprint.holes = {{{100, 0, 0}, {101, 0, 0}, {100, 1, 0}}};
    plan.place.footprint = {footprint};
    const json data = told(plan);
    EXPECT_EQ(data["frame"]["reach"], 50.0);  // 3-4-5
    EXPECT_EQ(data["frame"]["up"], json({0, 1, 0}));
    EXPECT_EQ(data["parts"][0]["footprint"].size(), 2u) << "its outline and its opening";
    EXPECT_EQ(places_of(data["parts"][0]["footprint"][0])[1], Vec3(130, 40, 0));
    EXPECT_FALSE(data["flat"]);
}

TEST(PlanData, WarnsOfTheGravestFirstInTheReadersUnits) {
    // 25 of 25.4 mm leave 0.4 mm, 0.016 in; a warning of a ply has its name in front.
    Plan plan = plan_of({ply(1, 10.0)});
    Warning scarf{warn::ScarfShort{"the bond needs more"}};
    scarf.ply = 2;
    plan.warnings = {Warning{warn::ResinRange{true, Grams(100.0)}},
                     Warning{warn::TestCup{{warn::NoGelTime::Why::not_given}}}, scarf,
                     Warning{warn::FloorThin{.depth = 25.0, .skin = 25.4}}};
    plan.job.display_units = Units::us;
    const json warnings = told(plan)["warnings"];
    ASSERT_EQ(warnings.size(), 4u);
    std::vector<std::string> codes;
    for (const json& warning : warnings) {
        codes.push_back(warning["code"]);
        const std::string text = warning["text"];
        EXPECT_FALSE(text.empty());
        EXPECT_FALSE(text.front() >= 'a' && text.front() <= 'z') << text;
        EXPECT_EQ(text.find("damage.depth"), std::string::npos) << "no key is shown: " << text;
    }
    // To decide, to do, to know; those of one rank as they come.
    EXPECT_EQ(codes,
              (std::vector<std::string>{"scarf-short", "test-cup", "floor-thin", "resin-range"}));
    for (const json& warning : warnings)
        if (warning["code"] == "scarf-short") {
            EXPECT_TRUE(std::string(warning["text"]).starts_with("Ply 2: ")) << warning["text"];
            EXPECT_EQ(warning["ply"], 2);
            EXPECT_TRUE(warning["at"].is_null());
        } else if (warning["code"] == "floor-thin") {
            EXPECT_NE(std::string(warning["text"]).find("0.016 in"), std::string::npos);
            EXPECT_TRUE(warning["ply"].is_null());
        }
}

}  // namespace
}  // namespace tearline::page::plan_data_test

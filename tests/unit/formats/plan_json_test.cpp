#include "core/formats/plan_json.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "core/formats/plies_json.h"
#include "core/formats/quantities_json.h"

namespace tearline::formats {
namespace {

using nlohmann::json;

/// What a function of one of the rooms writes, read by another reader.
template <class Write>
json read(Write write) {
    JsonWriter out;
    write(out);
    return json::parse(out.take());
}

quantities::Cup cup() {
    quantities::Cup cup;
    cup.resin_g = 30.0;
    cup.hardener_g = 0.375;
    cup.mix_resin_g = 40.0;
    cup.mix_hardener_g = 0.5;
    cup.left_g = 10.0;
    cup.pour_g = 40.0;
    cup.use_within_min = 12.6;
    cup.resin_by = quantities::Measured{quantities::Tool::scale, 40.0};
    cup.hardener_by = quantities::Measured{quantities::Tool::syringe_1, 0.43};
    return cup;
}

TEST(CupInJson, TellsWhatIsNeededApartFromWhatIsMixed) {
    const json told = read([](JsonWriter& out) { write_cup(out, cup()); });
    EXPECT_EQ(told["resin_g"], 30.0);
    EXPECT_EQ(told["mix_resin_g"], 40.0);
    EXPECT_EQ(told["left_g"], 10.0);
    EXPECT_EQ(told["hardener_g"], 0.375);
    EXPECT_EQ(told["mix_hardener_g"], 0.5);
    EXPECT_EQ(told["use_within_min"], 12.6);
    EXPECT_EQ(told["pour_resin_g"], 40.0);
    EXPECT_EQ(told["resin_by"]["tool"], "scale");
    EXPECT_EQ(told["hardener_by"]["tool"], "1-mL syringe");
    EXPECT_EQ(told["hardener_by"]["reading"], 0.43);
}

TEST(CupInJson, HasNullForWhatDoesNotApply) {
    // The plan file's contract: what does not apply is null, never left out and never 0.
    const json told = read([](JsonWriter& out) { write_cup(out, quantities::Cup{}); });
    for (const char* key :
         {"hardener_g", "hardener_mL", "use_within_min", "mix_hardener_g", "mix_hardener_mL",
          "pour_resin_g", "pour_resin_mL", "resin_by", "hardener_by"}) {
        ASSERT_TRUE(told.contains(key)) << key;
        EXPECT_TRUE(told[key].is_null()) << key;
    }
}

/// A mat piece and a woven one with every line of theirs.
templates::LaidPly one_ply(job::FabricKind kind) {
    templates::LaidPly ply;
    ply.number = 2;
    ply.fabric = "the cloth";
    ply.kind = kind;
    ply.pieces.resize(1);
    templates::LaidPiece& laid = ply.pieces[0];
    laid.piece.id = "2A";
    laid.piece.strain_rms = 0.0125;
    laid.piece.strain_max = 0.02;
    laid.outline.net = {{{0, 0}, {100, 0}, {100, 50}}, {{{60, 10}, {60, 20}, {70, 20}}}};
    laid.outline.area_mm2 = 2450.0;
    laid.outline.axis_degrees = 30.0;
    laid.outline.warp_degrees = 75.0;
    laid.outline.relief_cuts = {{"dart", {{50, 0}, {60, 20}}}};
    laid.outline.marks = {templates::Tick{{92, 5}, {108, 5}, "bow"}};
    if (kind == job::FabricKind::mat)
        laid.outline.tear = Region2{{{-20, -20}, {120, -20}, {120, 70}}, {}};
    else
        laid.outline.cut = Region2{{{-5, -5}, {105, -5}, {105, 55}}, {}},
        laid.piece.shear_max = 9.5;
    return ply;
}

json piece_of(job::FabricKind kind) {
    const templates::LaidPly ply = one_ply(kind);
    const quantities::PieceAmounts amounts{12.5, 29.0};
    return read([&](JsonWriter& out) { write_piece(out, ply, ply.pieces[0], &amounts); });
}

TEST(PieceInJson, OfMatHasItsTearLineAndStrainAndNullForCloths) {
    const json told = piece_of(job::FabricKind::mat);
    EXPECT_EQ(told["id"], "2A");
    EXPECT_EQ(told["net_line"], json::parse("[[0,0],[100,0],[100,50]]"));
    EXPECT_EQ(told["net_holes"], json::parse("[[[60,10],[60,20],[70,20]]]"));
    EXPECT_EQ(told["tear_line"], json::parse("[[-20,-20],[120,-20],[120,70]]"));
    EXPECT_EQ(told["tear_holes"], json::array());
    EXPECT_TRUE(told["cut_line"].is_null());
    EXPECT_TRUE(told["cut_holes"].is_null());
    EXPECT_EQ(told["strain"]["rms"], 0.0125);
    EXPECT_EQ(told["strain"]["max"], 0.02);
    EXPECT_TRUE(told["shear_deg"].is_null());
    EXPECT_TRUE(told["warp_deg"].is_null()) << "mat has no grain";
    EXPECT_EQ(told["mesh"], "pieces/2A.bin");
    EXPECT_EQ(told["glass_g"], 12.5);
    EXPECT_EQ(told["resin_g"], 29.0);
}

TEST(PieceInJson, OfClothHasItsCutLineItsShearAndItsWarp) {
    const json told = piece_of(job::FabricKind::woven);
    EXPECT_TRUE(told["tear_line"].is_null());
    EXPECT_EQ(told["cut_line"][2], json::parse("[105,55]"));
    EXPECT_TRUE(told["strain"].is_null());
    EXPECT_EQ(told["shear_deg"]["max"], 9.5);
    EXPECT_EQ(told["axis_deg"], 30.0);
    EXPECT_EQ(told["warp_deg"], 75.0);
    EXPECT_EQ(told["relief_cuts"], json::parse(R"([{"kind":"dart","points":[[50,0],[60,20]]}])"));
    EXPECT_EQ(told["marks"],
              json::parse(R"([{"kind":"tick","points":[[92,5],[108,5]],"text":"bow"}])"));
}

TEST(LaminateInJson, TellsOldAndNewApart) {
    Plan plan;
    laminate::Comparison comparison;
    comparison.patch.thickness = 8.4;
    comparison.patch.along = {5e4, 2.5e5, 600.0, 700.0, 900.0};
    comparison.patch.across = {4e4, 2e5, 500.0, 650.0, 800.0};
    comparison.before = laminate::Behaviour{8.0, comparison.patch.across, comparison.patch.along};
    comparison.ratios = laminate::Ratios{1.1, 1.2, 1.3, 1.25, 1.4};
    comparison.sources = {"mat 450: from memory"};
    plan.comparison = comparison;
    const auto told = [&plan] {
        return read([&](JsonWriter& out) {
            out.begin_object();
            write_laminate(out, plan);
            out.end_object();
        });
    };
    const json laminate = told()["laminate"];
    EXPECT_EQ(laminate["new"]["thickness_mm"], 8.4);
    EXPECT_EQ(laminate["old"]["thickness_mm"], 8.0);
    EXPECT_EQ(laminate["new"]["along"]["membrane_stiffness_N_per_mm"], 5e4);
    EXPECT_EQ(laminate["old"]["along"]["membrane_stiffness_N_per_mm"], 4e4);
    EXPECT_EQ(laminate["new"]["across"]["bending_N"], 800.0);
    // In the plane the lesser of tension's and compression's.
    EXPECT_EQ(laminate["ratios"]["membrane_strength"], 1.25);
    EXPECT_EQ(laminate["ratios"]["bending_strength"], 1.4);
    plan.comparison->before = std::nullopt;
    plan.comparison->ratios = std::nullopt;
    EXPECT_FALSE(told()["laminate"].contains("old"));
    EXPECT_FALSE(told()["laminate"].contains("ratios"));
}

TEST(PlanJson, IsReadByAnotherReaderWithItsWarningsAsSentences) {
    Plan plan;
    plan.job.title = "Curlew \"6 m\"\n";
    plan.job.hull.model = "models/curlew.step";
    plan.model_sha256 = std::string(64, 'a');
    plan.job.effective_json = R"({"tearline":1})";
    plan.plies = {one_ply(job::FabricKind::mat)};
    plan.quantities.plies = {{2, {{12.5, 29.0}}, 2450.0, 12.5, 29.0}};
    plan.warnings = {
        {.cause = warn::ShearNearLimit{"roving 600", 31.0, 40.0}, .ply = 2, .piece = "2A"}};
    const json told = json::parse(plan_json(plan));
    EXPECT_EQ(told["schema"], "tearline-plan/1");
    EXPECT_EQ(told["job"]["title"], "Curlew \"6 m\"\n");
    EXPECT_EQ(told["job"]["model"], "curlew.step") << "no path of the machine";
    EXPECT_EQ(told["job"]["effective"]["tearline"], 1);
    EXPECT_EQ(told["plies"][0]["pieces"][0]["id"], "2A");
    const json& warning = told["warnings"][0];
    EXPECT_EQ(warning["code"], std::string(plan.warnings[0].code()));
    EXPECT_EQ(warning["ply"], 2);
    EXPECT_EQ(warning["piece"], "2A");
    EXPECT_TRUE(warning["at"].is_null());
    EXPECT_EQ(plan_json(plan), plan_json(plan)) << "the same bytes";
}

}  // namespace
}  // namespace tearline::formats

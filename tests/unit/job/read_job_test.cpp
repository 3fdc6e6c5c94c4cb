#include "core/job/read_job.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "core/base/numbers.h"
#include "core/job/given.h"

namespace tearline::job::read_job_test {
namespace {

const std::string least =
    "[hull]\nmodel = \"hull.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
    "[damage]\ncentre = [1, 2, 3]\nradius = 80\ndepth = 6\n";

Job read(const std::string& text) {
    auto job = parse_job(text, "jobs/job.toml");
    if (!job) throw std::runtime_error(job.error().message());
    return *job;
}

/// The job file of DEFINITIONS.md, Job file, with a choice made where it offers one.
const char* const whole = R"(
tearline = 1
title = "Keel of the Sandpiper"
display_units = "us"
[hull]
model = "models/hull.stl"
unit = "in"
bow = [2, 0, 0]
up = [0, 0, 1]
surface = "outside"
skin = "8 mm"
outward = "as modelled"
mirror = true
[damage]
outline = [[0, 0, 0], [100, 0, 0], ["10 cm", "4 in", 0]]
join = "straight"
depth = "6 mm"
side = "inside"
[scarf]
ratio = 12
least_step = "1 in"
safety_factor = 2
bond_shear = "8 MPa"
[layup]
order = "largest first"
stack = ["mat 450", {fabric = "roving 600", axis = 45, axis_free = 10}, "house mat"]
cover = []
cover_step = "25 mm"
press_first = [1, 2, 3]
position = "overhead"
copies = 2
[[fabric]]
name = "mat 450"
kind = "mat"
weight = "1.5 oz/ft2"
glass_content = 0.28
thickness = "1.05 mm"
binder = "powder"
roll_width = "50 in"
tear_margin = "15 mm"
lap = "50 mm"
strain_limit = 0.04
shear_limit = 40
least_radius = "6 mm"
[[fabric]]
name = "house mat"
kind = "mat"
weight = "500 g/m2"
[resin]
kind = "epoxy"
density = 1.1
cured_density = 1.15
hardener_parts = [5, 1]
hardener_basis = "volume"
hardener_density = 1.0
gel_minutes = 25
gel_at = {temperature = 20, percent = 1.25, mass = "100 g"}
least_temperature = 12
recoat_hours = 8
waxed = false
cup = "0.2 kg"
waste = 0.15
prime = "0.5 oz/ft2"
drops_per_mL = 33
can = "1 lb"
[topcoat]
finish = "final"
thickness = "20 mil"
density = 1.3
hardener_percent = 1.5
hardener_range = [1.2, 3.0]
[laminator]
wet_out_rate = 0.04
use_fraction = 0.5
[shop]
temperature = 18
stage_thickness = "4 mm"
[old_laminate]
thickness = "8 mm"
kind = "woven"
[prices]
currency = "EUR"
fabric_per_m2 = {"mat 450" = 4.2}
resin_per_kg = 5
hardener_per_kg = 20
topcoat_per_kg = 9
)";

TEST(ReadJob, LeastFileGetsTheStatedDefaults) {
    // Expected: the defaults of DEFINITIONS.md, Job file.
    const Job job = read(least);
    EXPECT_EQ(job.hull.model, std::filesystem::path("jobs/hull.step"));
    EXPECT_FALSE(job.hull.skin);
    EXPECT_EQ(job.hull.outward, "auto");
    EXPECT_DOUBLE_EQ(job.scarf.ratio, 12.0);
    ASSERT_EQ(job.layup.fill.size(), 1u);
    EXPECT_EQ(job.layup.fill[0].fabric, "mat 450");
    ASSERT_EQ(job.layup.cover.size(), 2u);
    EXPECT_EQ(job.layup.cover[1].fabric, "mat 300");
    EXPECT_DOUBLE_EQ(job.resin.hardener_percent.value(), 1.25);
    EXPECT_DOUBLE_EQ(job.resin.cup.value(), 250.0);
    EXPECT_FALSE(job.resin.gel_minutes);
    EXPECT_NEAR(job.topcoat.thickness, 0.508, 1e-12);
    EXPECT_FALSE(job.topcoat_given);
    EXPECT_EQ(job.fabrics.size(), 11u);
}

TEST(ReadJob, EveryKeyIsRead) {
    const Job job = read(whole);
    EXPECT_EQ(job.display_units, Units::us);
    EXPECT_EQ(job.hull.bow, Vec3(1, 0, 0));
    EXPECT_EQ(job.hull.mirror, true);
    ASSERT_EQ(job.damage.outline.size(), 3u);
    EXPECT_NEAR((job.damage.outline[2] - Vec3(100, 101.6, 0)).norm(), 0.0, 1e-12);
    EXPECT_EQ(job.damage.join, Join::straight);
    EXPECT_EQ(job.damage.side, Side::inside);
    EXPECT_NEAR(job.scarf.least_step, 25.4, 1e-12);
    EXPECT_DOUBLE_EQ(job.scarf.bond_shear.value(), 8.0);
    EXPECT_EQ(job.layup.order, Order::largest_first);
    EXPECT_DOUBLE_EQ(job.layup.stack[1].axis, 45.0);
    EXPECT_DOUBLE_EQ(job.layup.stack[1].axis_free, 10.0);
    EXPECT_TRUE(job.layup.cover.empty());
    EXPECT_EQ(job.layup.position, Position::overhead);
    EXPECT_EQ(job.layup.copies, 2);
    EXPECT_NEAR(job.fabrics.at("mat 450").weight.value(), 457.7276, 5e-5);
    EXPECT_EQ(job.fabrics.at("mat 450").binder, "powder");
    EXPECT_NEAR(job.fabrics.at("mat 450").roll_width, 1270.0, 1e-9);
    EXPECT_DOUBLE_EQ(job.fabrics.at("house mat").glass_content, 0.30);
    EXPECT_EQ(job.resin.hardener_parts.value(), (std::array<double, 2>{5, 1}));
    EXPECT_EQ(job.resin.hardener_basis, Basis::volume);
    EXPECT_NEAR(job.resin.prime.value(), 152.576, 5e-4);
    EXPECT_NEAR(job.resin.can.mass.value().value(), 453.59237, 1e-9);
    EXPECT_EQ(job.resin.can.text, "1 lb");
    EXPECT_TRUE(job.topcoat.final_coat);
    EXPECT_EQ(job.old_laminate->kind, FabricKind::woven);
    EXPECT_DOUBLE_EQ(job.prices->fabric_per_m2.at("mat 450"), 4.2);
}

TEST(ReadJob, BuiltInFabricIsOverriddenKeyByKey) {
    const Job job = read(least + "[[fabric]]\nname = \"roving 600\"\nroll_width = 1000\n");
    EXPECT_DOUBLE_EQ(job.fabrics.at("roving 600").roll_width, 1000.0);
    EXPECT_DOUBLE_EQ(job.fabrics.at("roving 600").weight.value(), 600.0);
    EXPECT_DOUBLE_EQ(job.fabrics.at("roving 600").glass_content, 0.48);
    EXPECT_DOUBLE_EQ(job.fabrics.at("roving 600").least_radius, 20.0);
}

TEST(ReadJob, WhatTheFileGivesIsToldFromWhatIsAssumed) {
    const Job job = read(least +
                         "[[fabric]]\nname = \"mat 450\"\nglass_content = 0.3\n"
                         "[[fabric]]\nname = \"mat 300\"\nlap = 40\n[resin]\nwaste = 0.1\n");
    EXPECT_TRUE(is_given(job, "resin.waste"));
    EXPECT_FALSE(is_given(job, "resin.prime"));
    EXPECT_TRUE(is_given(job, job.fabrics.at("mat 450"), "glass_content"));
    EXPECT_FALSE(is_given(job, job.fabrics.at("mat 450"), "lap"));
    EXPECT_FALSE(is_given(job, job.fabrics.at("mat 300"), "glass_content"));
}

TEST(ReadJob, DataSheetFiguresCarryTheirUnits) {
    // By definition: 1 GPa is 1000 MPa, 1 psi 0.00689476 MPa, 1 Msi 6894.76 MPa.
    const Job job = read(least +
                         "[[fabric]]\nname = \"mat 450\"\nmodulus = \"7 GPa\"\n"
                         "modulus_across = \"1 Msi\"\nshear_modulus = 2750\npoisson = 0.33\n"
                         "tensile_strength = \"12.5 ksi\"\ncompressive_strength = \"120 N/mm2\"\n"
                         "flexural_strength = \"150 MPa\"\nshear_strength = 60\n");
    const DataSheet& sheet = job.fabrics.at("mat 450").data_sheet;
    EXPECT_DOUBLE_EQ(sheet.modulus.value(), 7000.0);
    EXPECT_NEAR(sheet.modulus_across.value(), 6894.757, 5e-4);
    EXPECT_DOUBLE_EQ(sheet.shear_modulus.value(), 2750.0);
    EXPECT_DOUBLE_EQ(sheet.poisson.value(), 0.33);
    EXPECT_NEAR(sheet.tensile_strength.value(), 86.18447, 5e-6);
    EXPECT_DOUBLE_EQ(sheet.compressive_strength.value(), 120.0);
    EXPECT_DOUBLE_EQ(sheet.flexural_strength.value(), 150.0);
    EXPECT_DOUBLE_EQ(sheet.shear_strength.value(), 60.0);
}

TEST(ReadJob, AimWaitsAndOldResinAreRead) {
    const Job job = read(least +
                         "[layup]\nfill = \"mat 450\"\nfill_to = \"strength\"\n[shop]\n"
                         "hours_between_stages = 30\nfairing_skim = \"10 mil\"\n[old_laminate]\n"
                         "stack = [\"mat 450\", \"roving 600\"]\nresin = \"vinylester\"\n"
                         "[topcoat]\nhardener_percent = 1.8\n[prices]\nfairing_per_litre = 12\n");
    EXPECT_EQ(job.layup.fill_to, FillTo::strength);
    EXPECT_DOUBLE_EQ(job.shop.hours_between_stages.value().value(), 30.0);
    EXPECT_NEAR(job.shop.fairing_skim, 0.254, 1e-12);
    EXPECT_EQ(job.old_laminate->stack.size(), 2u);
    EXPECT_EQ(job.old_laminate->resin, ResinKind::vinylester);
    EXPECT_TRUE(job.topcoat.hardener_given);
    EXPECT_DOUBLE_EQ(job.prices->fairing_per_litre.value(), 12.0);
    EXPECT_EQ(read(least).layup.fill_to, FillTo::thickness);
    EXPECT_FALSE(read(least).topcoat.hardener_given);
    EXPECT_EQ(read(least + "[old_laminate]\nresin = \"polyester\"\n").old_laminate->resin,
              ResinKind::polyester);
}

TEST(ReadJob, NewFabricHasTheDefaultsOfItsKind) {
    const Job job =
        read(least + "[[fabric]]\nname = \"twill\"\nkind = \"biaxial\"\nweight = \"400 g/m2\"\n");
    EXPECT_DOUBLE_EQ(job.fabrics.at("twill").glass_content, 0.50);
    EXPECT_DOUBLE_EQ(job.fabrics.at("twill").least_radius, 15.0);
}

TEST(ReadJob, VinylesterHasNothingThatItsDataSheetMustSay) {
    const Resin resin =
        read(least +
             "[resin]\nkind = \"vinylester\"\nhardener_percent = 1.5\ncured_density = 1.14\n")
            .resin;
    EXPECT_DOUBLE_EQ(resin.hardener_percent.value(), 1.5);
    EXPECT_DOUBLE_EQ(resin.cured_density, 1.14);
    EXPECT_FALSE(resin.density);
    EXPECT_FALSE(resin.hardener_density);
    EXPECT_FALSE(resin.hardener_range);
}

TEST(ReadJob, EpoxyHasNoDensityThatIsNotItsOwn) {
    // DEFINITIONS.md, Job file: cured 1.15 g/cm3 (from memory), liquids unknown, no topcoat.
    const std::string text =
        least + "[resin]\nkind = \"epoxy\"\nhardener_parts = [2, 1]\nhardener_basis = \"volume\"\n";
    const Job job = read(text);
    EXPECT_DOUBLE_EQ(job.resin.cured_density, 1.15);
    EXPECT_FALSE(job.resin.cured_density_given);
    EXPECT_FALSE(job.resin.density);
    EXPECT_FALSE(job.resin.hardener_density);
    EXPECT_FALSE(job.resin.hardener_percent);
    EXPECT_FALSE(job.topcoat.hardener_percent);
    const auto json = nlohmann::json::parse(job.effective_json);
    EXPECT_TRUE(json["resin"]["density"].is_null());
    EXPECT_TRUE(json["resin"]["hardener_density"].is_null());
    EXPECT_TRUE(json["topcoat"]["thickness"].is_null());
    const Job own = read(text + "density = 1.12\nhardener_density = 0.97\n");
    EXPECT_DOUBLE_EQ(own.resin.density.value().value(), 1.12);
    EXPECT_TRUE(own.resin.hardener_density_given);
}

TEST(ReadJob, ResinIsSoldByTheQuartWhereSheetsShowUsUnits) {
    // Exact: a US quart is 32 fl oz of 29.5735295625 mL.
    const std::string us = "display_units = \"us\"\n" + least;
    EXPECT_EQ(read(us).resin.can.text, "1 qt");
    EXPECT_NEAR(read(us).resin.can.volume.value().value(), 946.352946, 1e-6);
    EXPECT_EQ(read(least).resin.can.text, "5 kg");
    EXPECT_EQ(read(us + "[resin]\ncan = \"1 gal\"\n").resin.can.text, "1 gal");
    EXPECT_EQ(read(us + "[resin]\ncan = 900\n").resin.can.text, "900 g");
}

TEST(ReadJob, ByteOrderMarkAndWindowsLineEndsAreRead) {
    std::string text = "\xEF\xBB\xBF";
    for (const char c : least) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
    EXPECT_DOUBLE_EQ(read(text).damage.depth, 6.0);
}

TEST(ReadJob, NonAsciiPathAndTitleSurvive) {
    const std::string text =
        "title = \"K\u00f8l p\u00e5 \u00c5se\"\n[hull]\nmodel = "
        "\"b\u00e5t skrog.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
        "[damage]\ncentre = [1, 2, 3]\nradius = 80\ndepth = 6\n";
    const auto folder = std::filesystem::temp_directory_path() / "tearline job \u00e5\u00e9\u6f22";
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "job.toml", std::ios::binary) << text;
    const auto job = read_job(folder / "job.toml");
    std::filesystem::remove_all(folder);
    ASSERT_TRUE(job) << job.error().message();
    EXPECT_EQ(job->title, "K\u00f8l p\u00e5 \u00c5se");
    EXPECT_EQ(job->hull.model, folder / "b\u00e5t skrog.step");
}

TEST(ReadJob, HandClosedOutlineLosesItsRepeatedPoint) {
    const Job job = read(
        "[hull]\nmodel = \"h.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
        "[damage]\noutline = [[0,0,0],[9,0,0],[9,9,0],[0,0,0]]\ndepth = 6\n");
    EXPECT_EQ(job.damage.outline.size(), 3u);
}

TEST(EffectiveJson, NamesTablesAndKeysAsTheJobFileDoes) {
    const auto json = nlohmann::json::parse(read(least).effective_json);
    EXPECT_EQ(json["hull"]["model"], "hull.step");
    EXPECT_TRUE(json["hull"]["skin"].is_null());
    EXPECT_EQ(json["resin"]["cup"], "250 g");
    EXPECT_EQ(json["resin"]["prime"], "150 g/m2");
    EXPECT_EQ(json["resin"]["hardener_percent"], 1.25);
    EXPECT_EQ(json["layup"]["order"], "smallest first");
    EXPECT_EQ(json["layup"]["fill"][0]["fabric"], "mat 450");
    EXPECT_TRUE(json["layup"]["stack"].is_null());
    ASSERT_EQ(json["fabric"].size(), 2u);
    EXPECT_EQ(json["fabric"][0]["name"], "mat 300");
}

/// Writes JSON as TOML, leaving out what is null.
std::string as_toml(const nlohmann::json& value) {
    if (value.is_array()) {
        std::string out = "[";
        for (const auto& item : value) out += as_toml(item) + ", ";
        return out + "]";
    }
    if (value.is_object()) {
        std::string out = "{";
        for (const auto& [key, item] : value.items())
            if (!item.is_null())
                out += (out.size() > 1 ? ", " : "") + ('"' + key + "\" = ") + as_toml(item);
        return out + "}";
    }
    return value.dump();
}

TEST(ReadJob, CountsSoundingsOfTheGroundDishAndOfTheCuredWorkApart) {
    // 5 to 200 of each (issue: soundings): 200 before and 200 after a ply are a sound job.
    const auto soundings = [](int count, const std::string& more) {
        std::string text;
        for (int i = 0; i < count; ++i)
            text += "[[damage.sounding]]\nat = [1, 2, 3]\ndepth = 2\n" + more;
        return text;
    };
    const std::string full = least + soundings(200, "");
    EXPECT_EQ(read(full + soundings(200, "after = 1\n")).damage.soundings.size(), 400u);
    const auto many = parse_job(full + soundings(201, "after = 1\n"), "job.toml");
    ASSERT_FALSE(many);
    EXPECT_NE(many.error().message().find("201 soundings after ply 1; 5 to 200"), std::string::npos)
        << many.error().message();
}

TEST(EffectiveJson, ReadBackAsAJobFileSaysTheSame) {
    // Round trip: what the program resolved is itself a complete job file.
    for (const std::string& text : {least, std::string(whole)}) {
        const std::string first = read(text).effective_json;
        std::string toml;
        const auto json = nlohmann::json::parse(first);
        for (const auto& [key, value] : json.items())
            if (!value.is_null()) toml += key + " = " + as_toml(value) + "\n";
        EXPECT_EQ(read(toml).effective_json, first) << toml;
    }
}

}  // namespace
}  // namespace tearline::job::read_job_test

#include "core/job/merge_repair.h"

#include <gtest/gtest.h>

#include "core/job/amounts.h"
#include "core/job/fabric_catalogue.h"
#include "core/job/parse_toml.h"
#include "core/job/resin_of_kind.h"

namespace tearline::job {
namespace {

/// A boat file's one [[repair]] over its top.
Node merged(const std::string& text) {
    const Node top = parse_toml(text, "boat.toml").value();
    return merged_repair(top, top.find("repair")->items.front());
}

/// The keys of a table, in their order.
std::vector<std::string> keys(const Node* table) {
    std::vector<std::string> out;
    if (table)
        for (const Node& item : table->items) out.push_back(item.key);
    return out;
}

using Keys = std::vector<std::string>;

TEST(MergedRepair, TakesWhatItDoesNotSayFromTheTop) {
    const Node job = merged(
        "title = \"Boat\"\n[scarf]\nratio = 12\nsafety_factor = 2\n"
        "[[repair]]\nname = \"bow\"\n[repair.scarf]\nratio = 20\n");
    EXPECT_EQ(job.find("scarf")->find("ratio")->number, 20.0);
    EXPECT_EQ(job.find("scarf")->find("safety_factor")->number, 2.0);
    EXPECT_EQ(job.find("title"), nullptr) << "the boat's own";
    EXPECT_EQ(job.find("repair"), nullptr);
    EXPECT_EQ(job.find("name"), nullptr);
}

TEST(MergedRepair, ReplacesEveryFormOfTheOutlineByItsOwn) {
    const std::string top =
        "[damage]\nlength = 90\nheight = 60\ndepth = 6\n[[repair]]\n[repair.damage]\n";
    EXPECT_EQ(keys(merged(top + "outline = [[0, 0, 0]]\n").find("damage")),
              (Keys{"depth", "outline"}));
    // A centre alone is a place of its own, as large as the others.
    EXPECT_EQ(keys(merged(top + "centre = [0, 0, 0]\n").find("damage")),
              (Keys{"length", "height", "depth", "centre"}));
    EXPECT_EQ(keys(merged(top + "centre = [0, 0, 0]\nradius = 50\n").find("damage")),
              (Keys{"depth", "centre", "radius"}));
}

TEST(MergedRepair, ReplacesEveryFormOfTheDepthAndOfThePlies) {
    EXPECT_EQ(keys(merged("[damage]\nradius = 9\ndepth = 6\n[[repair]]\n[repair.damage]\n"
                          "through = true\n")
                       .find("damage")),
              (Keys{"radius", "through"}));
    EXPECT_EQ(keys(merged("[layup]\nfill = \"mat 450\"\ncover = []\n[[repair]]\n[repair.layup]\n"
                          "stack = [\"mat 450\"]\n")
                       .find("layup")),
              (Keys{"cover", "stack"}));
    EXPECT_EQ(keys(merged("[old_laminate]\nthickness = 8\nkind = \"mat\"\n[[repair]]\n"
                          "[repair.old_laminate]\nstack = [\"mat 450\"]\n")
                       .find("old_laminate")),
              (Keys{"stack"}));
}

TEST(MergedRepair, MergesTheLayupOfASideKeyByKeyToo) {
    const Node job = merged(
        "[layup.inside]\nfill = \"mat 450\"\ncover = []\n[[repair]]\n[repair.layup.inside]\n"
        "stack = [\"mat 300\"]\n");
    EXPECT_EQ(keys(job.find("layup")->find("inside")), (Keys{"cover", "stack"}));
}

TEST(MergedRepair, PutsItsCopiesIntoTheLayup) {
    const Node job =
        merged("[layup]\ncopies = 1\n[[repair]]\ncopies = 3\npress_first = [1, 2, 3]\n");
    EXPECT_EQ(job.find("copies"), nullptr);
    EXPECT_EQ(job.find("layup")->find("copies")->number, 3.0);
    EXPECT_EQ(job.find("layup")->find("press_first")->items.size(), 3u);
}

TEST(MergedRepair, ReplacesListsWhole) {
    const Node job = merged(
        "[layup]\ncover = [\"mat 300\", \"mat 300\"]\n[[repair]]\n"
        "[repair.layup]\ncover = [\"mat 450\"]\n");
    EXPECT_EQ(job.find("layup")->find("cover")->items.size(), 1u);
}

TEST(Length, AFractionNeverTakesFromItsWhole) {
    // "1 -3/4 in" is a slip of "1-3/4": 0.25 in would be meant by nobody.
    EXPECT_FALSE(read_length("1 -3/4 in"));
    EXPECT_FALSE(read_length("1 ft 2 -1/4 in"));
    EXPECT_NEAR(read_length("1 3/4 in").value(), 44.45, 1e-12);
    EXPECT_NEAR(read_length("-3/4 in").value(), -19.05, 1e-12);
}

TEST(Catalogue, HasTheGlassContentsAndRadiiOfItsKinds) {
    // ISO 12215-5, hand lay-up, from memory: mat 0.30, woven 0.48, multiaxial 0.50; least radii
    // within SOURCES.md section 5: mat 6 to 10 mm, woven 12 to 25.
    const auto fabrics = built_in_fabrics();
    for (const auto& [name, fabric] : fabrics) {
        EXPECT_EQ(name, fabric.name);
        const std::string weight = name.substr(name.find(' ') + 1);
        EXPECT_EQ(fabric.weight.value(), std::stod(weight)) << name;
        EXPECT_DOUBLE_EQ(fabric.glass_content, fabric.kind == FabricKind::mat     ? 0.30
                                               : fabric.kind == FabricKind::woven ? 0.48
                                                                                  : 0.50);
        EXPECT_GE(fabric.least_radius, fabric.kind == FabricKind::mat ? 6.0 : 12.0) << name;
        EXPECT_LE(fabric.least_radius, fabric.kind == FabricKind::mat ? 10.0 : 25.0) << name;
        EXPECT_EQ(name.starts_with("mat"), fabric.kind == FabricKind::mat);
        EXPECT_EQ(name.starts_with("biaxial"), fabric.kind == FabricKind::biaxial);
    }
    for (const char* name : {"mat 225", "mat 300", "mat 450", "mat 600", "roving 600", "roving 800",
                             "biaxial 400", "biaxial 600", "biaxial 800", "cloth 200", "cloth 300"})
        EXPECT_TRUE(fabrics.contains(name)) << name;
}

TEST(ResinOfKind, AssumesOfVinylesterAndEpoxyOnlyHowTheyCure) {
    // The job file's contract: no percentage, range or liquid density but of polyester.
    const Resin polyester = resin_of_kind(ResinKind::polyester);
    EXPECT_EQ(polyester.hardener_percent, 1.25);
    EXPECT_EQ(polyester.density->value(), 1.13);
    for (const ResinKind kind : {ResinKind::vinylester, ResinKind::epoxy}) {
        const Resin resin = resin_of_kind(kind);
        EXPECT_FALSE(resin.hardener_percent);
        EXPECT_FALSE(resin.hardener_range);
        EXPECT_FALSE(resin.density);
        EXPECT_FALSE(resin.hardener_density);
    }
    EXPECT_EQ(resin_of_kind(ResinKind::epoxy).cured_density, 1.15);
    EXPECT_NEAR(us_can().volume->value(), 946.352946, 1e-9);  // a US quart, exact
    EXPECT_FALSE(topcoat_over(ResinKind::epoxy).hardener_percent);
    EXPECT_EQ(topcoat_over(ResinKind::polyester).hardener_percent, 2.0);
}

}  // namespace
}  // namespace tearline::job

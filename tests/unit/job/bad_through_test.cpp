#include <gtest/gtest.h>

#include "core/job/read_job.h"

// What a job file may not say of holes right through, backings and cores (DEFINITIONS.md, Sides):
// each rule that refuses, refuses, with its key and what would be right.
namespace tearline::job::bad_through_test {
namespace {

const std::string hull = "[hull]\nmodel = \"h.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n";
const std::string disc = "[damage]\ncentre = [1, 2, 3]\nradius = 80\n";
const std::string skin = "skin = 8\n";
const std::string through = hull + skin + disc + "through = true\n";
const std::string core_figures =
    "[core]\nthickness = 15\nouter = 3\ninner = 2.5\nmaterial = \"PVC foam\"\n";
const std::string skins = "[layup.inner]\nfill = \"mat 300\"\n[layup.outer]\nfill = \"mat 450\"\n";
const std::string cored = hull + disc + "reaches = \"inner skin\"\n" + core_figures + skins;

const std::string sounded = [] {
    std::string all;
    for (const char* at : {"[1, 2, 3]", "[20, 2, 3]", "[1, 20, 3]", "[-20, 2, 3]", "[1, -20, 3]"})
        all += std::string("[[damage.sounding]]\nat = ") + at + "\ndepth = 4\n";
    return all;
}();

std::string refusal(const std::string& text) {
    const auto job = parse_job(text, "j.toml");
    return job ? "" : job.error().message();
}

struct Bad {
    const char* name;
    std::string text;
    const char *key, *right;
};

class BadThrough : public testing::TestWithParam<Bad> {};

TEST_P(BadThrough, IsRefusedWithItsKeyAndWhatIsRight) {
    const std::string said = refusal(GetParam().text);
    EXPECT_NE(said.find(std::string(GetParam().key) + ":"), std::string::npos) << said;
    EXPECT_NE(said.find(GetParam().right), std::string::npos) << said;
}

INSTANTIATE_TEST_SUITE_P(
    Rules, BadThrough,
    testing::Values(
        Bad{"depth", through + "depth = 6\n", "damage.depth", "leave it out"},
        Bad{"skin_missing", hull + disc + "through = true\n", "hull.skin", "skin is thick"},
        Bad{"side_against_from", through + "side = \"inside\"\n[scarf]\nfrom = \"outside\"\n",
            "damage.side", "leave one of them out"},
        Bad{"from_without_hole", hull + disc + "depth = 5\n[scarf]\nfrom = \"both\"\n",
            "scarf.from", "damage.through = true"},
        Bad{"share_from_one_side", through + "[scarf]\nshare = 0.4\n", "scarf.share",
            "scarf.from = \"both\""},
        Bad{"share_of_all", through + "[scarf]\nfrom = \"both\"\nshare = 1\n", "scarf.share",
            "below 1"},
        Bad{"sounded_hole", through + sounded, "damage.sounding", "no floor"},
        Bad{"inside_layup_from_one_side", through + "[layup.inside]\nfill = \"mat 450\"\n",
            "layup.inside", "scarf.from = \"both\""},
        Bad{"inside_layup_copies",
            through + "[scarf]\nfrom = \"both\"\n[layup.inside]\ncopies = 2\n",
            "layup.inside.copies", "unknown key"},
        Bad{"aim_of_a_side",
            through + "[scarf]\nfrom = \"both\"\n[layup]\nfill = \"mat 450\"\nfill_to = "
                      "\"stiffness\"\n[old_laminate]\nthickness = 8\nkind = \"mat\"\n",
            "layup.fill_to", "each side or skin"},
        Bad{"backing_without_hole", hull + disc + "depth = 5\n[backing]\nlap = 40\n",
            "backing.kind", "damage.through = true"},
        Bad{"sheet_without_thickness", through + "[backing]\nkind = \"sheet\"\n",
            "backing.thickness", "1.5 mm"},
        Bad{"petals_without_thickness", through + "[backing]\nkind = \"petals\"\n",
            "backing.thickness", "1.5 mm"},
        Bad{"cannot_come_out", through + "[backing]\nstays = false\n", "backing.stays",
            "cannot come out"},
        Bad{"cannot_come_off", through + "[scarf]\nfrom = \"inside\"\n[backing]\nstays = false\n",
            "backing.stays", "mould on the outer face cannot come off"},
        Bad{"stays_with_both", through + "[scarf]\nfrom = \"both\"\n[backing]\nstays = true\n",
            "backing.stays", "comes out again"},
        Bad{"reaches_without_core", hull + disc + "reaches = \"core\"\n", "damage.reaches",
            "[core]"},
        Bad{"core_without_reaches", hull + disc + "depth = 3\n" + core_figures + skins,
            "damage.reaches", "farthest layer"},
        Bad{"core_without_stacks", hull + disc + "reaches = \"inner skin\"\n" + core_figures,
            "layup.outer", "new outer skin"},
        Bad{"core_without_inner_stack",
            hull + disc + "reaches = \"inner skin\"\n" + core_figures +
                "[layup.outer]\nfill = \"mat 450\"\n",
            "layup.inner", "new inner skin"},
        Bad{"core_depth", hull + disc + "depth = 3\nreaches = \"core\"\n" + core_figures + skins,
            "damage.depth", "leave it out"},
        Bad{"core_sum", hull + "skin = 25\n" + disc + "reaches = \"core\"\n" + core_figures + skins,
            "hull.skin", "adds up to 20.5 mm"},
        Bad{"core_thickness_missing",
            hull + disc + "reaches = \"core\"\n[core]\nouter = 3\ninner = 2.5\nmaterial = \"x\"\n" +
                skins,
            "core.thickness", "missing"},
        Bad{"core_material_missing",
            hull + disc + "reaches = \"core\"\n[core]\nthickness = 15\nouter = 3\ninner = 2.5\n" +
                skins,
            "core.material", "missing"},
        Bad{"polystyrene",
            hull + disc +
                "reaches = \"core\"\n[core]\nthickness = 15\nouter = 3\ninner = 2.5\nmaterial = "
                "\"Polystyrene, extruded\"\n" +
                skins,
            "core.material", "dissolves polystyrene"},
        Bad{"letters_of_a_board",
            hull + disc +
                "reaches = \"core\"\n[core]\nthickness = 15\nouter = 3\ninner = 2.5\nmaterial = "
                "\"XPS 30\"\n" +
                skins,
            "core.material", "dissolves polystyrene"},
        Bad{"an_old_name",
            hull + disc +
                "reaches = \"core\"\n[core]\nthickness = 15\nouter = 3\ninner = 2.5\nmaterial = "
                "\"Polystyrol\"\n" +
                skins,
            "core.material", "dissolves polystyrene"},
        Bad{"ps_foam",
            hull + disc +
                "reaches = \"core\"\n[core]\nthickness = 15\nouter = 3\ninner = 2.5\nmaterial = "
                "\"PS foam\"\n" +
                skins,
            "core.material", "dissolves polystyrene"},
        Bad{"core_alone", hull + disc + core_figures + skins, "damage.reaches", "missing"},
        Bad{"kerf_without_width",
            hull + disc + "reaches = \"core\"\n" + core_figures + "kerf_pitch = 25\n" + skins,
            "core.kerf_width", "2 mm"},
        Bad{"wet_core_that_is_sound",
            hull + disc + "reaches = \"outer skin\"\n" + core_figures + "wet_edge = 30\n" + skins,
            "core.wet_edge", "damage.reaches = \"core\""},
        Bad{"core_from_both",
            hull + disc + "through = true\nreaches = \"inner skin\"\n[scarf]\nfrom = \"both\"\n" +
                core_figures + skins,
            "scarf.from", "from one side"},
        Bad{"hole_that_is_none",
            hull + disc + "through = true\nreaches = \"core\"\n" + core_figures + skins,
            "damage.reaches", "far skin"},
        Bad{"skins_without_core", through + "[layup.inner]\nfill = \"mat 300\"\n", "layup.inner",
            "[core]"}),
    [](const auto& info) { return info.param.name; });

TEST(GoodThrough, FillsInWhatIsNotSaid) {
    const auto job = parse_job(through, "j.toml");
    ASSERT_TRUE(job) << job.error().message();
    EXPECT_EQ(job->scarf.from, ScarfFrom::outside);
    ASSERT_TRUE(job->backing);
    EXPECT_EQ(job->backing->kind, BackingKind::choose);
    EXPECT_DOUBLE_EQ(job->backing->lap, 40.0);
    EXPECT_TRUE(job->backing->stays.value());
    const auto both = parse_job(through + "[scarf]\nfrom = \"both\"\n", "j.toml");
    ASSERT_TRUE(both) << both.error().message();
    EXPECT_FALSE(both->backing->stays.value());
    EXPECT_DOUBLE_EQ(both->scarf.share, 0.5);
    EXPECT_EQ(both->scarf.first, Side::inside);
    EXPECT_DOUBLE_EQ(both->scarf.grind_back, 0.5);
}

TEST(GoodThrough, TakesTheSideFromTheScarf) {
    const auto job = parse_job(through + "[scarf]\nfrom = \"inside\"\n", "j.toml");
    ASSERT_TRUE(job) << job.error().message();
    EXPECT_EQ(job->damage.side, Side::inside);
}

TEST(GoodThrough, ABackingStaysFromOneSideUnlessAMouldIsAskedForInside) {
    // DEFINITIONS.md, Sides, backing, cores.
    const std::string inside = through + "[scarf]\nfrom = \"inside\"\n";
    const auto job = parse_job(inside, "j.toml");
    ASSERT_TRUE(job) << job.error().message();
    EXPECT_TRUE(job->backing->stays.value());
    // Reached from one side only, what lies outside could not come off: refused above.
    const auto mould =
        parse_job(inside + "[backing]\nstays = false\naccess = \"both sides\"\n", "j.toml");
    ASSERT_TRUE(mould) << mould.error().message();
    EXPECT_FALSE(mould->backing->stays.value());
}

TEST(GoodThrough, InsideLayupHasWhatItDoesNotSayFromLayup) {
    const auto job =
        parse_job(through +
                      "[scarf]\nfrom = \"both\"\n[layup]\nstack = [\"mat 450\", \"mat 450\"]\n"
                      "position = \"overhead\"\n[layup.inside]\nposition = \"flat\"\n",
                  "j.toml");
    ASSERT_TRUE(job) << job.error().message();
    ASSERT_TRUE(job->layup_inside);
    EXPECT_EQ(job->layup_inside->stack.size(), 2u);
    EXPECT_EQ(job->layup_inside->position, Position::flat);
    EXPECT_EQ(job->layup.position, Position::overhead);
}

TEST(GoodThrough, CoreTellsTheSkin) {
    const auto job = parse_job(cored, "j.toml");
    ASSERT_TRUE(job) << job.error().message();
    EXPECT_DOUBLE_EQ(job->hull.skin.value(), 20.5);
    ASSERT_TRUE(job->backing);  // the far skin is holed
    EXPECT_DOUBLE_EQ(job->core->gap, 2.0);
    EXPECT_DOUBLE_EQ(job->core->guard, 10.0);
}

TEST(GoodThrough, PolystyreneGoesWithEpoxy) {
    const std::string foam =
        hull + disc +
        "reaches = \"core\"\n[core]\nthickness = 15\nouter = 3\ninner = 2.5\nmaterial = "
        "\"polystyrene\"\n" +
        skins + "[resin]\nkind = \"epoxy\"\nhardener_parts = [5, 1]\nhardener_basis = \"mass\"\n";
    EXPECT_EQ(refusal(foam), "");
}

TEST(GoodThrough, FoamOfStyreneAcrylonitrileGoesWithPolyester) {
    // What styrene dissolves is polystyrene alone; letters inside other words are none of its
    // names.
    for (const char* name : {"SAN foam", "styrene acrylonitrile", "end-grain balsa, upset steps"}) {
        const std::string foam =
            hull + disc +
            "reaches = \"core\"\n[core]\nthickness = 15\nouter = 3\ninner = 2.5\nmaterial = \"" +
            name + "\"\n" + skins;
        EXPECT_EQ(refusal(foam), "") << name;
    }
}

}  // namespace
}  // namespace tearline::job::bad_through_test

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "core/job/read_job.h"

// Bad job files: each is refused as bad input, with the file, the line, the key, the value and what
// would be right. The expected words are the contract of DESIGN sections 4 and 5.
namespace tearline::job {
namespace {

struct Bad {
    const char* name;
    std::string text;
    std::string where;               ///< "LINE: table.key:"
    std::vector<std::string> words;  ///< each stands in the message
};

// Five lines, then the damage table on line 5 and the keys a case adds from line 6 on.
const std::string hull = "[hull]\nmodel = \"h.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n";
const std::string disc = "[damage]\ncentre = [1, 2, 3]\nradius = 80\ndepth = 6\n";
const std::string good = hull + disc;  // 8 lines

std::string with_hull(const std::string& lines) {
    return "[hull]\n" + lines + disc;
}
std::string with_damage(const std::string& lines) {
    return hull + "[damage]\n" + lines;
}

const std::vector<Bad>& cases() {
    static const std::vector<Bad> list = {
        {"empty", "", "1:", {"empty", "tearline new"}},
        {"blank", "\n \r\n\t\n", "1:", {"empty"}},
        {"not_toml", "[hull\nmodel = 3\n", "1:", {"not a TOML file"}},
        {"binary",
         std::string("\x7f"
                     "ELF\x02\x01\x01\x00\x00\xff\xfe\x80",
                     12),
         "1:",
         {"not a TOML"}},
        {"invalid_utf8", "title = \"\xC3\x28\"\n" + good, "1:", {"not a TOML"}},
        {"huge", std::string(2u << 20u, '#'), "1:", {"bytes", "hull model"}},
        {"deep_key",
         "a" +
             [] {
                 std::string s;
                 for (int i = 0; i < 9000; ++i) s += ".a";
                 return s;
             }() +
             " = 1\n",
         "1:",
         {"dotted key"}},
        {"deep_array", "title = " + std::string(5000, '['), "1:", {"not a TOML"}},
        {"duplicate_key", good + "depth = 7\n", "9:", {"not a TOML file", "depth"}},
        {"version", "tearline = 2\n" + good, "1: tearline:", {"value 2", "version 1"}},
        {"title_number", "title = 5\n" + good, "1: title:", {"value 5", "text in quotes"}},
        {"display_units",
         "display_units = \"imperial\"\n" + good,
         "1: display_units:",
         {"\"imperial\"", "\"metric\" or \"us\""}},
        {"unknown_table", good + "[resins]\n", "9: resins:", {"unknown key", "nearest", "resin"}},
        {"unknown_key",
         good + "[scarf]\nratoi = 12\n",
         "10: scarf.ratoi:",
         {"unknown key", "scarf.ratio"}},
        {"table_is_value", "hull = 3\n" + disc, "1: hull:", {"value 3", "[hull]"}},
        {"no_hull", disc, "4: hull.model:", {"missing", "hull.step"}},
        {"no_bow", with_hull("model = \"h.step\"\nup = [0, 0, 1]\n"), "1: hull.bow:", {"missing"}},
        {"no_up", with_hull("model = \"h.step\"\nbow = [1, 0, 0]\n"), "1: hull.up:", {"missing"}},
        {"bow_zero",
         with_hull("model = \"h.step\"\nbow = [0, 0, 0]\nup = [0, 0, 1]\n"),
         "3: hull.bow:",
         {"value [0, 0, 0]", "zero"}},
        {"bow_nan",
         with_hull("model = \"h.step\"\nbow = [nan, 0, 0]\nup = [0, 0, 1]\n"),
         "3: hull.bow:",
         {"nan", "finite"}},
        {"bow_two_numbers",
         with_hull("model = \"h.step\"\nbow = [1, 0]\nup = [0, 0, 1]\n"),
         "3: hull.bow:",
         {"value [1, 0]", "three numbers"}},
        {"up_along_bow",
         with_hull("model = \"h.step\"\nbow = [1, 0, 0]\nup = [-2, 0, 0.01]\n"),
         "4: hull.up:",
         {"value [-2, 0, 0.01]", "parallel to bow"}},
        {"extension",
         with_hull("model = \"hull.3dm\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"),
         "2: hull.model:",
         {"\"hull.3dm\"", ".step", ".ply"}},
        {"no_extension",
         with_hull("model = \"hull\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"),
         "2: hull.model:",
         {"\"hull\"", ".step"}},
        {"empty_model",
         with_hull("model = \"\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"),
         "2: hull.model:",
         {"value \"\""}},
        {"stl_without_unit",
         with_hull("model = \"h.STL\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"),
         "1: hull.unit:",
         {"missing", ".stl", "\"mm\""}},
        {"unit",
         with_hull("model = \"h.stl\"\nunit = \"metres\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"),
         "3: hull.unit:",
         {"\"metres\"", "\"m\""}},
        {"surface",
         with_hull("model = \"h.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nsurface = \"port\"\n"),
         "5: hull.surface:",
         {"\"port\"", "\"outside\" or \"inside\""}},
        {"mirror_text",
         with_hull("model = \"h.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nmirror = \"yes\"\n"),
         "5: hull.mirror:",
         {"\"yes\"", "true or false"}},
        {"skin_negative",
         with_hull("model = \"h.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin = -8\n"),
         "5: hull.skin:",
         {"value -8", "above 0"}},
        {"other_face_without_skin",
         with_damage("centre = [1, 2, 3]\nradius = 80\ndepth = 6\nside = \"inside\"\n"),
         "1: hull.skin:",
         {"missing", "other face"}},
        {"measured_beside_a_model",
         good + "[hull.measured]\nbatten = 600\n",
         "9: hull.measured:",
         {"given by hull.model already"}},
        {"measured_without_gap",
         with_hull("bow = [1, 0, 0]\nup = [0, 1, 0]\n[hull.measured]\nbatten = 600\n"
                   "gap_along = 4\n"),
         "4: hull.measured.gap_across:",
         {"missing"}},
        {"gap_wider_than_the_batten_allows",
         with_hull("bow = [1, 0, 0]\nup = [0, 1, 0]\n[hull.measured]\nbatten = 600\n"
                   "gap_along = \"40 cm\"\ngap_across = 3\n"),
         "6: hull.measured.gap_along:",
         {"40 cm", "at most 150"}},
        {"one_end_only",
         with_hull("bow = [1, 0, 0]\nup = [0, 1, 0]\n[hull.measured]\nbatten = 600\n"
                   "gap_along = 4\ngap_across = 3\ngap_along_ends = [3]\n"),
         "8: hull.measured.gap_along_ends:",
         {"two gaps"}},
        {"ragged_grid",
         with_hull("bow = [1, 0, 0]\nup = [0, 1, 0]\n[hull.grid]\nspacing_along = 100\n"
                   "spacing_across = 100\noffsets = [[1, 2, 3], [4, 5], [7, 8, 9]]\n"),
         "7: hull.grid.offsets[2]:",
         {"has 2 figures", "3"}},
        {"figure_that_is_none",
         with_hull("bow = [1, 0, 0]\nup = [0, 1, 0]\n[hull.grid]\nspacing_along = 100\n"
                   "spacing_across = 100\noffsets = [[1, 2, 3], [4, \"x\", 6], [7, 8, 9]]\n"),
         "7: hull.grid.offsets[2][2]:",
         {"\"x\""}},
        {"stations_out_of_order",
         with_hull("bow = [1, 0, 0]\nup = [0, 0, 1]\n[hull.sections]\nstations = [0, 200, 100]\n"
                   "waterlines = [0, 1, 2]\n"
                   "half_breadths = [[1, 2, 3], [4, 5, 6], [7, 8, 9]]\n"),
         "5: hull.sections.stations:",
         {"number 3, 100 mm", "ascend"}},
        {"mark_without_place",
         good + "[marks.A]\n[marks.B]\nat = [1, 2, 3]\n",
         "9: marks.A:",
         {"at = [x, y, z]"}},
        {"one_mark", good + "[marks.A]\nat = [1, 2, 3]\n", "9: marks:", {"has 1"}},
        {"few_soundings",
         good + "[[damage.sounding]]\nat = [1, 2, 3]\ndepth = 2\n",
         "9: damage.sounding:",
         {"1 sounding;", "5 to 200"}},
        {"sounding_without_depth",
         good + "[[damage.sounding]]\nat = [1, 2, 3]\n",
         "9: damage.sounding[1].depth:",
         {"missing"}},
        {"straightedge_without_length",
         good + "[[damage.sounding]]\nat = [1, 2, 3]\ndepth = 2\nfrom = \"straightedge\"\n",
         "9: damage.sounding[1].length:",
         {"missing"}},
        {"taped_point_without_marks",
         with_damage(
             "centre = {A = \"412 mm\", B = \"655 mm\", side = \"up\"}\nradius = 80\ndepth = 6\n"),
         "6: damage.centre:",
         {"there is no mark A", "[marks.A]"}},
        {"taped_point_without_side",
         with_damage("centre = {A = \"412 mm\", B = \"655 mm\"}\nradius = 80\ndepth = 6\n"),
         "6: damage.centre:",
         {"two places", "side"}},
        {"taped_outline_point",
         with_damage("outline = [{A = 1, side = \"up\"}]\ndepth = 6\n"),
         "6: damage.outline[1]:",
         {"two marks"}},
        {"no_damage", hull, "4: damage.outline:", {"missing", "centre"}},
        {"outline_two_points",
         with_damage("outline = [[0, 0, 0], [9, 0, 0]]\ndepth = 6\n"),
         "6: damage.outline:",
         {"at least 3 points", "has 2"}},
        {"outline_closed_by_hand",
         with_damage("outline = [[0, 0, 0], [9, 0, 0], [0, 0, 0]]\ndepth = 6\n"),
         "6: damage.outline:",
         {"at least 3 points"}},
        {"outline_repeated_point",
         with_damage("outline = [[0, 0, 0], [9, 0, 0], [9, 0, 0], [9, 9, 0]]\ndepth = 6\n"),
         "6: damage.outline:",
         {"point 3 repeats"}},
        {"outline_and_centre",
         with_damage(
             "outline = [[0, 0, 0], [9, 0, 0], [9, 9, 0]]\ncentre = [0, 0, 0]\ndepth = 6\n"),
         "7: damage.centre:",
         {"not by both"}},
        {"outline_and_radius",
         with_damage("outline = [[0, 0, 0], [9, 0, 0], [9, 9, 0]]\nradius = 9\ndepth = 6\n"),
         "7: damage.radius:",
         {"goes with centre"}},
        {"outline_infinite",
         with_damage("outline = [[0, 0, 0], [inf, 0, 0], [9, 9, 0]]\ndepth = 6\n"),
         "6: damage.outline[2]:",
         {"value inf", "finite"}},
        {"outline_far_away",
         with_damage("outline = [[0, 0, 0], [1e12, 0, 0], [9, 9, 0]]\ndepth = 6\n"),
         "6: damage.outline[2]:",
         {"10 km", "unit"}},
        {"outline_text",
         with_damage("outline = \"round it\"\ndepth = 6\n"),
         "6: damage.outline:",
         {"list of points"}},
        {"centre_without_size",
         with_damage("centre = [0, 0, 0]\ndepth = 6\n"),
         "5: damage.radius:",
         {"missing", "length and height"}},
        {"ellipse_without_height",
         with_damage("centre = [0, 0, 0]\nlength = 90\ndepth = 6\n"),
         "5: damage.height:",
         {"missing"}},
        {"radius_and_length",
         with_damage("centre = [0, 0, 0]\nradius = 9\nlength = 90\nheight = 9\ndepth = 6\n"),
         "7: damage.radius:",
         {"not both"}},
        {"radius_zero",
         with_damage("centre = [0, 0, 0]\nradius = 0\ndepth = 6\n"),
         "7: damage.radius:",
         {"value 0", "above 0"}},
        {"no_depth",
         with_damage("centre = [0, 0, 0]\nradius = 9\n"),
         "5: damage.depth:",
         {"missing", "6 mm"}},
        {"depth_zero",
         with_damage("centre = [0, 0, 0]\nradius = 9\ndepth = 0\n"),
         "8: damage.depth:",
         {"value 0", "above 0"}},
        {"depth_negative",
         with_damage("centre = [0, 0, 0]\nradius = 9\ndepth = \"-6 mm\"\n"),
         "8: damage.depth:",
         {"value \"-6 mm\"", "above 0"}},
        {"depth_nan",
         with_damage("centre = [0, 0, 0]\nradius = 9\ndepth = nan\n"),
         "8: damage.depth:",
         {"value nan", "finite"}},
        {"depth_without_unit",
         with_damage("centre = [0, 0, 0]\nradius = 9\ndepth = \"6\"\n"),
         "8: damage.depth:",
         {"value \"6\"", "unit is missing"}},
        {"depth_comma",
         with_damage("centre = [0, 0, 0]\nradius = 9\ndepth = \"6,5 mm\"\n"),
         "8: damage.depth:",
         {"6,5 mm", "no comma"}},
        {"depth_date",
         with_damage("centre = [0, 0, 0]\nradius = 9\ndepth = 2024-05-01\n"),
         "8: damage.depth:",
         {"must be a length"}},
        {"depth_over_skin",
         "[hull]\nmodel = \"h.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin = 5\n" + disc,
         "9: damage.depth:",
         {"value 6", "hull.skin, 5 mm"}},
        {"ratio_zero",
         good + "[scarf]\nratio = 0\n",
         "10: scarf.ratio:",
         {"value 0", "at least 1"}},
        {"ratio_text",
         good + "[scarf]\nratio = \"12:1\"\n",
         "10: scarf.ratio:",
         {"value \"12:1\"", "without quotes"}},
        {"order",
         good + "[layup]\norder = \"smallest\"\n",
         "10: layup.order:",
         {"\"smallest first\" or \"largest first\""}},
        {"stack_and_fill",
         good + "[layup]\nstack = [\"mat 450\"]\nfill = \"mat 450\"\n",
         "11: layup.fill:",
         {"not both"}},
        {"stack_empty", good + "[layup]\nstack = []\n", "10: layup.stack:", {"at least one ply"}},
        {"stack_unknown_fabric",
         good + "[layup]\nstack = [\"mat 450\", \"mta 450\"]\n",
         "10: layup.stack[2]:",
         {"\"mta 450\"", "nearest known one is \"mat 450\"", "[[fabric]]"}},
        {"cover_number",
         good + "[layup]\ncover = [300]\n",
         "10: layup.cover[1]:",
         {"value 300", "mat 450"}},
        {"axis_nan",
         good + "[layup]\nfill = {fabric = \"roving 600\", axis = nan}\n",
         "10: layup.fill.axis:",
         {"value nan"}},
        {"copies_fraction",
         good + "[layup]\ncopies = 1.5\n",
         "10: layup.copies:",
         {"value 1.5", "whole number"}},
        {"fabric_no_name",
         good + "[[fabric]]\nweight = \"450 g/m2\"\n",
         "9: fabric.name:",
         {"missing"}},
        {"fabric_no_kind",
         good + "[[fabric]]\nname = \"twill\"\nweight = \"450 g/m2\"\n",
         "9: fabric.kind:",
         {"missing", "\"twill\"", "\"woven\""}},
        {"fabric_no_weight",
         good + "[[fabric]]\nname = \"twill\"\nkind = \"woven\"\n",
         "9: fabric.weight:",
         {"missing", "g/m2"}},
        {"fabric_twice",
         good + "[[fabric]]\nname = \"mat 450\"\n[[fabric]]\nname = \"mat 450\"\n",
         "12: fabric.name:",
         {"twice"}},
        {"fabric_as_table", good + "[fabric]\nname = \"mat 450\"\n", "9: fabric:", {"[[fabric]]"}},
        {"bare_ounce",
         good + "[[fabric]]\nname = \"mat 450\"\nweight = \"1.5 oz\"\n",
         "11: fabric.weight:",
         {"value \"1.5 oz\"", "oz/ft2", "oz/yd2", "square foot", "square yard"}},
        {"weight_bare_number",
         good + "[[fabric]]\nname = \"mat 450\"\nweight = 450\n",
         "11: fabric.weight:",
         {"value 450", "\"450 g/m2\""}},
        {"glass_none",
         good + "[[fabric]]\nname = \"mat 450\"\nglass_content = 0\n",
         "11: fabric.glass_content:",
         {"value 0", "above 0"}},
        {"glass_all",
         good + "[[fabric]]\nname = \"mat 450\"\nglass_content = 1.0\n",
         "11: fabric.glass_content:",
         {"value 1", "below 1"}},
        {"glass_percent",
         good + "[[fabric]]\nname = \"mat 450\"\nglass_content = 30\n",
         "11: fabric.glass_content:",
         {"value 30", "0.30"}},
        {"hardener_low",
         good + "[resin]\nhardener_percent = 0.5\n",
         "10: resin.hardener_percent:",
         {"value 0.5", "hardener_range, 1 to 2 %"}},
        {"hardener_high",
         good + "[resin]\nhardener_percent = 4\n",
         "10: resin.hardener_percent:",
         {"value 4", "hardener_range"}},
        {"hardener_range_reversed",
         good + "[resin]\nhardener_range = [2.0, 1.0]\n",
         "10: resin.hardener_range:",
         {"value [2, 1]", "smaller"}},
        {"vinylester_out_of_range",
         good + "[resin]\nkind = \"vinylester\"\nhardener_percent = 3\n",
         "11: resin.hardener_percent:",
         {"value 3"}},
        {"epoxy_without_parts",
         good + "[resin]\nkind = \"epoxy\"\nhardener_basis = \"mass\"\n",
         "9: resin.hardener_parts:",
         {"missing", "data sheet"}},
        {"epoxy_without_basis",
         good + "[resin]\nkind = \"epoxy\"\nhardener_parts = [5, 1]\n",
         "9: resin.hardener_basis:",
         {"missing", "\"volume\""}},
        {"epoxy_with_percent",
         good + "[resin]\nkind = \"epoxy\"\nhardener_percent = 2\n",
         "11: resin.hardener_percent:",
         {"fixed ratio"}},
        {"epoxy_zero_part",
         good + "[resin]\nkind = \"epoxy\"\nhardener_basis = \"mass\"\nhardener_parts = [5, 0]\n",
         "12: resin.hardener_parts:",
         {"value [5, 0]", "above 0"}},
        {"polyester_with_parts",
         good + "[resin]\nhardener_parts = [5, 1]\n",
         "10: resin.hardener_parts:",
         {"epoxy"}},
        {"gel_without_conditions",
         good + "[resin]\ngel_minutes = 20\n",
         "9: resin.gel_at:",
         {"missing", "temperature"}},
        {"gel_without_mass",
         good + "[resin]\ngel_minutes = 20\ngel_at = {temperature = 20, percent = 1.25}\n",
         "11: resin.gel_at.mass:",
         {"missing", "100 g"}},
        {"gel_conditions_alone",
         good + "[resin]\ngel_at = {temperature = 20, percent = 1.25, mass = \"100 g\"}\n",
         "10: resin.gel_at:",
         {"gel_minutes", "missing"}},
        {"cup_without_unit",
         good + "[resin]\ncup = \"250\"\n",
         "10: resin.cup:",
         {"value \"250\"", "g, kg"}},
        {"waste_all", good + "[resin]\nwaste = 1.0\n", "10: resin.waste:", {"value 1", "below 1"}},
        {"topcoat_hardener",
         good + "[topcoat]\nhardener_percent = 0.5\n",
         "10: topcoat.hardener_percent:",
         {"value 0.5", "hardener_range"}},
        {"cold_shop",
         good + "[shop]\ntemperature = 8\n",
         "10: shop.temperature:",
         {"value 8", "least_temperature, 15 C", "never add more hardener"}},
        {"aim_without_old_laminate",
         good + "[layup]\nfill_to = \"stiffness\"\n",
         "10: layup.fill_to:",
         {"[old_laminate]", "thickness and kind"}},
        {"aim_with_only_the_old_resin",
         good + "[layup]\nfill_to = \"strength\"\n[old_laminate]\nresin = \"polyester\"\n",
         "10: layup.fill_to:",
         {"[old_laminate]"}},
        {"aim_with_stack",
         good + "[layup]\nstack = [\"mat 450\"]\nfill_to = \"thickness\"\n",
         "11: layup.fill_to:",
         {"goes with fill"}},
        {"polyester_on_epoxy_hull",
         good + "[old_laminate]\nresin = \"epoxy\"\n",
         "10: old_laminate.resin:",
         {"do not bond reliably", "repair with epoxy"}},
        {"poisson_over_half",
         good + "[[fabric]]\nname = \"mat 450\"\npoisson = 0.6\n",
         "11: fabric.poisson:",
         {"value 0.6"}},
        {"modulus_without_sense",
         good + "[[fabric]]\nname = \"mat 450\"\nmodulus = \"7 MPa\"\n",
         "11: fabric.modulus:",
         {"500"}},
        {"old_laminate_without_kind",
         good + "[old_laminate]\nthickness = 8\n",
         "9: old_laminate.kind:",
         {"missing"}},
        {"price_of_unknown_fabric",
         good + "[prices]\nfabric_per_m2 = {\"mat 455\" = 3}\n",
         "10: prices.fabric_per_m2.mat 455:",
         {"mat 450"}},
        {"control_characters",
         "title = 1\n" + hull + "\"a\\u001b[2J\" = 1\n" + disc,
         "1: title:",
         {"value 1"}},
    };
    return list;
}

void PrintTo(const Bad& bad, std::ostream* out) {
    *out << bad.name;
}

class BadJob : public testing::TestWithParam<Bad> {};

TEST_P(BadJob, IsRefusedWithPlaceAndRemedy) {
    const Bad& bad = GetParam();
    const auto job = parse_job(bad.text, "jobs/bad.toml");
    ASSERT_FALSE(job) << "was read";
    EXPECT_EQ(job.error().kind, ErrorKind::bad_input);
    const std::string& message = job.error().message;
    EXPECT_EQ(message.rfind("jobs/bad.toml:" + bad.where, 0), 0u) << message;
    for (const std::string& word : bad.words)
        EXPECT_NE(message.find(word), std::string::npos) << message << "\nlacks: " << word;
    EXPECT_LT(message.size(), 600u) << message;
}

INSTANTIATE_TEST_SUITE_P(Cases, BadJob, testing::ValuesIn(cases()),
                         [](const auto& info) { return std::string(info.param.name); });

TEST(BadJobFile, MissingFolderAndEndlessFilesAreRefused) {
    const auto missing = read_job("no such folder/job.toml");
    ASSERT_FALSE(missing);
    EXPECT_NE(missing.error().message.find("cannot be opened"), std::string::npos);
    const auto folder = read_job(std::filesystem::temp_directory_path());
    ASSERT_FALSE(folder);
    EXPECT_NE(folder.error().message.find("is a folder"), std::string::npos);
    const auto endless = read_job("/dev/zero");
    ASSERT_FALSE(endless);
    EXPECT_NE(endless.error().message.find("bytes"), std::string::npos);
}

TEST(BadJobFile, EveryCutOfAGoodFileIsReadOrRefusedCleanly) {
    // Property: no prefix of a job file crashes the reader, and a refusal always names the file.
    const std::string text = good + "[[fabric]]\nname = \"mat 450\"\nweight = \"1.5 oz/ft2\"\n";
    for (std::size_t length = 0; length < text.size(); ++length) {
        const auto job = parse_job(text.substr(0, length), "bad.toml");
        const std::string message = job ? "bad.toml:" : job.error().message;
        EXPECT_EQ(message.rfind("bad.toml:", 0), 0u) << length;
    }
}

}  // namespace
}  // namespace tearline::job

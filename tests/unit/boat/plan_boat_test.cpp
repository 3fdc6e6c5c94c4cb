#include "core/boat/plan_boat.h"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/support/mesh_files.h"

namespace tearline::boat::plan_boat_test {
namespace {

/// Two places of a flat panel told by a batten, small enough to be planned in no time.
std::string panel(const std::string& more) {
    return "title = \"shed\"\n" + more +
           "[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 8\n[hull.measured]\nbatten = 800\n"
           "gap_along = 0\ngap_across = 0\n[layup]\nfill = \"mat 450\"\ncover = []\n"
           "[resin]\nkind = \"polyester\"\nhardener_percent = 1.25\n";
}

std::string place(const std::string& name, double x, const std::string& more = "") {
    return "[[repair]]\nname = \"" + name + "\"\n" + more + "[repair.damage]\ncentre = [" +
           std::to_string(x) + ", 0]\nradius = 20\ndepth = 1.0\n";
}

Result<Boat> planned(const std::string& text, const PlacesDone& done = {}) {
    const auto job = job::parse_boat(text, "boat.toml");
    if (!job) return tl::unexpected(job.error());
    return plan_boat(*job, done);
}

TEST(PlanBoat, SumsEveryCopyOfEveryPlace) {
    // Closed form: discs of 20 mm with a scarf of 12 about 1 mm: ground of 32 mm, three of them.
    std::size_t most = 0;
    const auto boat = planned(panel("") + place("R1", -150) + place("R2", 150, "copies = 2\n"),
                              [&](std::size_t done, std::size_t all) {
                                  most = std::max(most, done);
                                  EXPECT_EQ(all, 2u);
                              });
    ASSERT_TRUE(boat) << boat.error().message();
    EXPECT_EQ(most, 2u);
    EXPECT_EQ(boat->planned(), 2u);
    const double disc = std::numbers::pi * 32.0 * 32.0 * 1e-6;
    EXPECT_NEAR(boat->totals.ground_area_m2, 3.0 * disc, 6e-3 * disc);
    const auto& one = boat->repairs[0].plan->quantities.totals;
    EXPECT_NEAR(boat->totals.glass_g, 3.0 * one.glass_g, 1e-2 * one.glass_g);
    EXPECT_NEAR(boat->totals.resin_g, 3.0 * one.resin_g, 1e-2 * one.resin_g);
    ASSERT_TRUE(boat->totals.hardener_g && one.hardener_g);
    EXPECT_NEAR(*boat->totals.hardener_g, 0.0125 * boat->totals.resin_g, 1e-9);
    // One nest: each piece as often as it is made.
    std::map<std::string, int> laid;
    for (const layout::Roll& roll : boat->nest.rolls)
        for (const layout::Placement& piece : roll.placed) ++laid[piece.piece];
    EXPECT_EQ(laid["R1-1A"], 1);
    EXPECT_EQ(laid["R2-1A"], 2);
}

TEST(PlanBoat, OfOnePlaceInAnothersGroundSaysWhyNothingIsPlanned) {
    const auto boat = planned(panel("") + place("R1", 0) + place("R2", 30));
    ASSERT_FALSE(boat);
    EXPECT_EQ(boat.error().kind, ErrorKind::no_safe_answer);
    EXPECT_EQ(boat.error().file, "boat.toml");
    EXPECT_NE(boat.error().message().find("repair R1"), std::string::npos);
    EXPECT_NE(boat.error().message().find("the ground of R1 and R2 overlaps"), std::string::npos);
    EXPECT_NE(boat.error().message().find("no place of this boat can be planned"),
              std::string::npos);
}

/// Why a remnant is refused, before anything is planned.
std::string refusal(const std::string& remnant) {
    const auto boat = planned(panel("") + "[[remnant]]\nname = \"offcut\"\nfabric = \"mat 450\"\n" +
                              remnant + place("R1", 0));
    EXPECT_FALSE(boat);
    if (boat) return "";
    EXPECT_EQ(boat.error().kind, ErrorKind::bad_input);
    EXPECT_GT(boat.error().line, 0);
    return boat.error().message();
}

bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

TEST(PlanBoat, RefusesARemnantThatIsNone) {
    const std::string crossed = refusal("outline = [[0, 0], [300, 200], [300, 0], [0, 200]]\n");
    EXPECT_TRUE(says(crossed, "remnant.outline: of \"offcut\": its outline crosses itself"))
        << crossed;
    // By hand: 0.3 by 0.2 m taken for mm are 0.06 mm2; 99 mm2 is less than 1 cm2 as well.
    EXPECT_TRUE(says(refusal("outline = [[0, 0], [9.9, 0], [9.9, 10], [0, 10]]\n"),
                     "less than 1 cm2; is it in mm?"));
    EXPECT_TRUE(says(refusal("outline = [[0, 0], [0, 10], [9.9, 10], [9.9, 0]]\n"),
                     "less than 1 cm2; is it in mm?"))
        << "whichever way round";
}

TEST(PlanBoat, NamesTheRemnantAndTheFileThatItsOutlineIsNotIn) {
    const test::Folder folder;
    const auto file = folder.write("offcut.dxf", "no DXF\n");
    const std::string why = refusal("model = \"" + file.string() + "\"\nunit = \"mm\"\n");
    EXPECT_TRUE(says(why, "boat.toml:")) << why;
    EXPECT_TRUE(says(why, "remnant.model: of \"offcut\": ")) << why;
    EXPECT_TRUE(says(why, "offcut.dxf")) << why;
}

}  // namespace
}  // namespace tearline::boat::plan_boat_test

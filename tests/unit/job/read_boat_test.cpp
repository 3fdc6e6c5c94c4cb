#include <gtest/gtest.h>

#include "core/job/boat_job.h"
#include "core/job/read_job.h"

namespace tearline::job {
namespace {

const std::string top = R"(
title = "Wren"
[hull]
model = "hull.step"
bow = [1, 0, 0]
up = [0, 0, 1]
skin = 9
[scarf]
ratio = 14
[layup]
fill = "mat 450"
cover = ["mat 300", "mat 225"]
)";

BoatJob read(const std::string& text) {
    const auto boat = parse_boat(text, "boat.toml");
    EXPECT_TRUE(boat) << boat.error().message();
    return boat.value_or(BoatJob());
}

std::string refusal(const std::string& text) {
    const auto boat = parse_boat(text, "boat.toml");
    return boat ? "" : boat.error().message();
}

TEST(BoatJob, GivesEachPlaceWhatStandsAtTheTop) {
    const BoatJob boat = read(top + R"(
[[repair]]
damage = {centre = [1, 2, 3], radius = 40, depth = 4}
[[repair]]
name = "keel"
title = "by the rock"
damage = {centre = [1, 2, 3], radius = 40, depth = 5}
scarf.ratio = 12
)");
    ASSERT_EQ(boat.repairs.size(), 2u);
    EXPECT_EQ(boat.repairs[0].name, "R1");
    EXPECT_EQ(boat.repairs[0].job.title, "Wren · R1");
    EXPECT_EQ(boat.repairs[1].job.title, "Wren · keel: by the rock");
    EXPECT_DOUBLE_EQ(boat.repairs[0].job.scarf.ratio, 14.0);
    EXPECT_DOUBLE_EQ(boat.repairs[1].job.scarf.ratio, 12.0);
    EXPECT_DOUBLE_EQ(boat.repairs[1].job.damage.depth, 5.0);
    EXPECT_EQ(boat.repairs[1].job.layup.cover.size(), 2u);
}

TEST(BoatJob, IsTheJobThatOneFileOfThatPlaceWouldSay) {
    // A second route: the same keys written into a file of one place.
    const std::string keys = "centre = [1, 2, 3]\nradius = 40\ndepth = 4\n";
    const BoatJob boat = read(top + "[[repair]]\n[repair.damage]\n" + keys);
    std::string alone = top + "[damage]\n" + keys;
    alone.replace(alone.find("\"Wren\""), 6, "\"Wren · R1\"");
    const auto job = parse_job(alone, "boat.toml");
    ASSERT_TRUE(job);
    EXPECT_EQ(boat.repairs[0].job.effective_json, job->effective_json);
}

TEST(BoatJob, ReplacesEveryFormOfTheOutline) {
    const std::string outline = "[damage]\ndepth = 4\noutline = [[0,0,0],[9,0,0],[0,9,0]]\n";
    const BoatJob boat = read(top + outline + R"(
[[repair]]
damage = {centre = [1, 2, 3], length = 40, height = 20}
[[repair]]
damage = {outline = [[0,0,0],[8,0,0],[8,8,0],[0,8,0]]}
[[repair]]
damage = {depth = 3}
)");
    EXPECT_TRUE(boat.repairs[0].job.damage.outline.empty());
    EXPECT_EQ(boat.repairs[0].job.damage.length, 40.0);
    EXPECT_EQ(boat.repairs[1].job.damage.outline.size(), 4u);
    EXPECT_EQ(boat.repairs[2].job.damage.outline.size(), 3u);
}

TEST(BoatJob, GivesACentreWithoutASizeThatOfTheTop) {
    const BoatJob boat = read(top + "[damage]\ndepth = 4\nradius = 15\n" + R"(
[[repair]]
damage = {centre = [1, 2, 3]}
[[repair]]
damage = {centre = [1, 2, 3], length = 40, height = 20}
)");
    EXPECT_EQ(boat.repairs[0].job.damage.radius, 15.0);
    EXPECT_FALSE(boat.repairs[1].job.damage.radius);
}

TEST(BoatJob, ReplacesFormsOfDepthAndPlies) {
    const BoatJob boat = read(top + "[damage]\ndepth = 4\nradius = 15\n" + R"(
[[repair]]
damage = {centre = [1, 2, 3], through = true}
scarf.from = "outside"
[[repair]]
damage = {centre = [1, 2, 3]}
layup.stack = ["mat 450"]
)");
    EXPECT_TRUE(boat.repairs[0].job.damage.through);
    EXPECT_EQ(boat.repairs[1].job.layup.stack.size(), 1u);
    EXPECT_TRUE(boat.repairs[1].job.layup.fill.empty());
}

TEST(BoatJob, TakesCopiesAndThePlaceToPressInTheRepairItself) {
    const BoatJob boat = read(top + "[damage]\ndepth = 4\nradius = 15\n" + R"(
[[repair]]
copies = 3
press_first = [1, 2, 4]
damage.centre = [1, 2, 3]
)");
    EXPECT_EQ(boat.repairs[0].job.layup.copies, 3);
    EXPECT_EQ(boat.repairs[0].job.layup.press_first->z(), 4.0);
    EXPECT_EQ(boat.repairs[0].job.layup.cover.size(), 2u);
}

TEST(BoatJob, MergesFurtherLayupsKeyByKeyAndPointsWhole) {
    const BoatJob boat = read(top + R"([layup.inside]
position = "overhead"
cover = ["mat 300"]
[[repair]]
damage = {centre = [1, 2, 3], radius = 30, through = true}
scarf.from = "both"
[repair.layup.inside]
cover = []
)");
    EXPECT_EQ(boat.repairs[0].job.layup_inside->position, Position::overhead);
    EXPECT_TRUE(boat.repairs[0].job.layup_inside->cover.empty());
}

TEST(BoatJob, RefusesInTheWordsOfThePlace) {
    const std::string place = "damage = {centre = [1, 2, 3], radius = 40, depth = 4}\n";
    struct Case {
        std::string text, words;
    };
    const std::vector<Case> cases = {
        {"[[repair]]\nname = \"..\"\n" + place, "boat.toml:14: repair[1].name: value \"..\""},
        {"[[repair]]\nname = \"a\"\n" + place + "[[repair]]\nname = \"A\"\n" + place,
         "boat.toml:17: repair[2].name"},
        {"[[repair]]\n" + place + "[repair.resin]\ncup = 100\n",
         "boat.toml:15: repair[1].resin: is of the whole boat"},
        {"[[repair]]\ncopies = 2\nlayup.copies = 2\n" + place, "repair[1].copies"},
        {"[[repair]]\ndamage = {centre = [1, 2, 3], radius = 40, depth = 0}\n",
         "boat.toml:14: repair R1, damage.depth"},
        {"[[repair]]\nname = \"x\"\n", "boat.toml:13: repair x, damage.outline: missing"},
        {"[[repair]]\n" + place +
             "[[remnant]]\nfabric = \"roving 600\"\n"
             "outline = [[0,0],[9,0],[0,9]]\n",
         "remnant[1].roll_direction: missing"},
    };
    for (const Case& one : cases)
        EXPECT_NE(refusal(top + one.text).find(one.words), std::string::npos)
            << one.words << "\n"
            << refusal(top + one.text);
    // What is wrong in what all share is no one place's.
    EXPECT_EQ(refusal(top + "[resin]\ncup = -1\n[[repair]]\n" + place).find("repair R1"),
              std::string::npos);
    EXPECT_NE(refusal(top + "[resin]\ncup = -1\n[[repair]]\n" + place).find("resin.cup"),
              std::string::npos);
}

TEST(BoatJob, IsNoJobOfOnePlace) {
    const std::string text = top + "[[repair]]\n";
    EXPECT_TRUE(is_boat(text));
    EXPECT_FALSE(is_boat(top));
    const auto job = parse_job(text, "boat.toml");
    ASSERT_FALSE(job);
    EXPECT_EQ(job.error().key, "repair");
    EXPECT_EQ(job.error().line, 13);
}

// The same file by either reader alone is the second way.
TEST(AnyJob, IsWhatTheReaderOfItsKindReads) {
    const std::string one = top + "[damage]\ncentre = [1, 2, 3]\nradius = 40\ndepth = 4\n";
    const std::string boat =
        top + "[[repair]]\ndamage = {centre = [1, 2, 3], radius = 40, depth = 4}\n";
    const auto read_one = parse_any_job(one, "job.toml"),
               read_boat = parse_any_job(boat, "job.toml");
    ASSERT_TRUE(read_one && read_boat);
    ASSERT_TRUE(std::holds_alternative<Job>(*read_one));
    EXPECT_EQ(std::get<Job>(*read_one).effective_json, parse_job(one, "job.toml")->effective_json);
    ASSERT_TRUE(std::holds_alternative<BoatJob>(*read_boat));
    EXPECT_EQ(std::get<BoatJob>(*read_boat).repairs.front().job.effective_json,
              parse_boat(boat, "job.toml")->repairs.front().job.effective_json);
}

TEST(AnyJob, IsRefusedAsTheReaderOfItsKindRefusesIt) {
    for (const std::string& text : {std::string(), std::string(" \n"), std::string("[hull\n"), top,
                                    top + "[damage]\ndepth = -1\n"}) {
        const auto any = parse_any_job(text, "job.toml");
        ASSERT_FALSE(any) << text;
        EXPECT_EQ(any.error().message(), parse_job(text, "job.toml").error().message());
    }
    const std::string boat = top + "[[repair]]\ndamage = {depth = -1}\n";
    const auto any = parse_any_job(boat, "job.toml");
    ASSERT_FALSE(any);
    EXPECT_EQ(any.error().message(), parse_boat(boat, "job.toml").error().message());
}

TEST(BoatJob, ReadsRemnants) {
    const BoatJob boat = read(top + R"([[repair]]
damage = {centre = [1, 2, 3], radius = 40, depth = 4}
[[remnant]]
fabric = "roving 600"
outline = [[0, 0], ["1 m", 0], [0, 500]]
roll_direction = 90
face = "up"
keep_off = [[0, 0, 10, 20]]
locked = [{piece = "R1-1A", at = [100, 50], turn = 180}]
)");
    ASSERT_EQ(boat.remnants.size(), 1u);
    const Remnant& remnant = boat.remnants.front();
    EXPECT_EQ(remnant.name, "remnant 1");
    EXPECT_DOUBLE_EQ(remnant.outline[1].x(), 1000.0);
    EXPECT_EQ(remnant.roll_direction, 90.0);
    EXPECT_EQ(remnant.face_up, true);
    EXPECT_DOUBLE_EQ(remnant.keep_off[0][3], 20.0);
    EXPECT_DOUBLE_EQ(remnant.locked[0].turn, 180.0);
}

}  // namespace
}  // namespace tearline::job

#include "core/boat/write_boat.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "core/files/manifest.h"
#include "tests/support/mesh_files.h"
#include "tests/unit/boat/small_boat.h"

namespace tearline::boat {
namespace {

namespace fs = std::filesystem;
using files::Format;

/// A boat with a roll and two remnants, of which one is used.
Boat nested() {
    Boat boat = boat_of({flat_repair("R1"), refused_repair("R2", "no room"), flat_repair("R3")});
    // No model is there to be hashed anew: it is known already.
    layout::Roll roll;
    roll.fabric = "mat 450";
    roll.width_mm = 1250.0;
    roll.length_mm = 400.0;
    roll.placed = {{"R1-1A", 100, 100, 0}, {"R3-1A", 300, 100, 0}};
    layout::CutRemnant used, unused;
    used.name = "Left of the Blue/2";
    used.fabric = unused.fabric = "roving 600";
    used.outline = unused.outline = {{0, 0}, {500, 0}, {500, 300}, {0, 300}};
    used.placed = {{"R1-2A", 150, 150, 0}};
    unused.name = "none";
    boat.nest.rolls = {roll};
    boat.nest.remnants = {unused, used};
    boat.rounds = {{{{0, {0, 1}, 1.0}, {2, {0, 1}, 1.0}}, false}};
    return boat;
}

class WriteBoat : public testing::Test {
protected:
    /// Names of the files written, those of the places' own plans left out.
    std::set<std::string> written(const Boat& boat, const std::vector<Format>& formats) {
        files::OutputOptions options;
        options.formats = formats;
        out_ = folder_.write("marker", "").parent_path() / "out";
        const auto wrote = write_boat(boat, out_, options, "job's hash");
        EXPECT_TRUE(wrote) << wrote.error().message();
        std::set<std::string> names;
        for (const auto& entry : fs::recursive_directory_iterator(out_)) {
            const std::string name = fs::relative(entry.path(), out_).string();
            if (entry.is_regular_file() && !name.starts_with("R")) names.insert(name);
        }
        return names;
    }
    [[nodiscard]] std::string text(const std::string& name) const {
        std::ifstream in(out_ / name, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }

    const test::Folder folder_;
    fs::path out_;
};

using Names = std::set<std::string>;

TEST_F(WriteBoat, HasItsOwnFilesAndAFolderForEachPlaceThatIsPlanned) {
    EXPECT_EQ(written(nested(), {Format::svg}),
              (Names{"plan.json", "overview.svg", "job-sheet.html", "manifest.json"}));
    for (const char* place : {"R1", "R3"}) {
        EXPECT_TRUE(fs::exists(out_ / place / "plan.json")) << place;
        EXPECT_TRUE(fs::exists(out_ / place / "job-sheet.html")) << place;
    }
    EXPECT_FALSE(fs::exists(out_ / "R2")) << "nothing of it is cut";
    const auto json = nlohmann::json::parse(text("plan.json"));
    EXPECT_EQ(json["repairs"][2]["plan"], "R3/plan.json");
    EXPECT_TRUE(files::check_ours(out_)) << "as its manifest says";
    const auto origin = files::origin_of(out_);
    ASSERT_TRUE(origin);
    EXPECT_EQ(origin->job, "job's hash");
}

TEST_F(WriteBoat, CutsFromRollsAndFromRemnantsThatAreUsed) {
    const Names names = written(nested(), {Format::dxf, Format::hpgl});
    // The second remnant by its number, whatever it is called.
    EXPECT_TRUE(names.contains("remnants/02-left-of-the-blue-2.dxf"));
    EXPECT_TRUE(names.contains("remnants/02-left-of-the-blue-2.plt"));
    int remnants = 0, rolls = 0;
    for (const std::string& name : names) {
        remnants += name.starts_with("remnants/") ? 1 : 0;
        rolls += name.starts_with("rolls/") ? 1 : 0;
        EXPECT_EQ(name.find("2000"), std::string::npos) << name;
    }
    EXPECT_EQ(remnants, 2);
    EXPECT_EQ(rolls, 2);
    EXPECT_NE(text("remnants/02-left-of-the-blue-2.dxf").find("R1-2A"), std::string::npos);
}

TEST_F(WriteBoat, CutsInTheNewerFormatUnderANameOfItsOwn) {
    const Names names = written(nested(), {Format::dxf2000});
    EXPECT_TRUE(names.contains("remnants/02-left-of-the-blue-2-2000.dxf"));
    EXPECT_FALSE(names.contains("remnants/02-left-of-the-blue-2.dxf"));
}

TEST_F(WriteBoat, NumbersRemnantsByTwoFigures) {
    Boat boat = nested();
    const layout::CutRemnant used = boat.nest.remnants[1];
    boat.nest.remnants.assign(9, boat.nest.remnants[0]);
    boat.nest.remnants.push_back(used);
    boat.nest.remnants[8].placed = used.placed;
    const Names names = written(boat, {Format::dxf});
    EXPECT_TRUE(names.contains("remnants/09-none.dxf"));
    EXPECT_TRUE(names.contains("remnants/10-left-of-the-blue-2.dxf"));
}

TEST_F(WriteBoat, KeepsNamesOfFilesShort) {
    Boat boat = nested();
    boat.nest.remnants[1].name = std::string(300, 'y');
    for (const std::string& name : written(boat, {Format::dxf})) EXPECT_LT(name.size(), 80u);
}

}  // namespace
}  // namespace tearline::boat

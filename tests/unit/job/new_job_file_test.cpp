#include "core/job/new_job_file.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>

#include "core/job/read_job.h"
#include "core/job/schema/tables.h"

namespace tearline::job {
namespace {

TEST(NewJobFile, ParsesAsItStandsWithEveryDefault) {
    const auto job = parse_job(new_job_file(), "job.toml");
    ASSERT_TRUE(job) << job.error().message();
    // Second route: the least job with the same hull and damage resolves to the same values.
    const auto least = parse_job(
        "title = \"My repair\"\n[hull]\nmodel = \"hull.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
        "[damage]\ncentre = [3000, 780, 197]\nradius = 80\ndepth = 6\n",
        "job.toml");
    ASSERT_TRUE(least);
    EXPECT_EQ(job->effective_json, least->effective_json);
}

/// The text with the "#" taken away before a key and a table, where `wanted(path)` holds; other
/// comments stay.
template <class Wanted>
std::string with_keys(Wanted wanted) {
    const std::string letters = "abcdefghijklmnopqrstuvwxyz_ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
    std::string out, table;
    std::istringstream lines{std::string(new_job_file())};
    for (std::string line; std::getline(lines, line);) {
        const std::string bare = line.rfind("# ", 0) == 0 ? line.substr(2) : line;
        const std::string key = bare.substr(0, bare.find_first_not_of(letters));
        const bool is_key = !key.empty() && bare.find(" = ") == key.size();
        if (bare.rfind('[', 0) == 0)
            table =
                bare.substr(bare.find_first_not_of('['), bare.find(']') - bare.rfind('[', 1) - 1);
        const std::string path = is_key ? table + "." + key : table;
        out += ((is_key || bare.rfind('[', 0) == 0) && wanted(path) ? bare : line) + "\n";
    }
    return out;
}

TEST(NewJobFile, CommentedKeysAreGoodAsTheyStand) {
    // All but those that exclude what the file already says.
    const std::set<std::string> excluded = {
        "damage.outline",       "damage.length",   "damage.height",    "damage.within",
        "damage.end",           "damage.lap_over", "damage.edge_turn", "damage.edge_radius",
        "damage.through",       "damage.reaches",  "layup.fill",       "layup.fill_to",
        "resin.hardener_parts", "scarf.from",      "scarf.share",      "scarf.first",
        "scarf.grind_back"};
    const auto text = with_keys([&](const std::string& path) { return !excluded.contains(path); });
    const auto job = parse_job(text, "job.toml");
    ASSERT_TRUE(job) << job.error().message() << "\n" << text;
    EXPECT_EQ(job->layup.stack.size(), 3u);
    EXPECT_DOUBLE_EQ(job->resin.gel_minutes->value(), 20.0);
    EXPECT_EQ(job->prices->currency, "EUR");
}

TEST(NewJobFile, ShowsTheDefaultsThatTheProgramUses) {
    // Keys whose line shows a default: reading them changes nothing. [[fabric]] stays away, and
    // what goes with scarf.from alone.
    const std::set<std::string> of_both = {"scarf.share", "scarf.first", "scarf.grind_back"};
    std::set<std::string> with_default;
    for_each_table([&](const auto& table) {
        for (const auto& key : table.keys)
            if (!key.defaults.all.empty() && table.path != "fabric")
                with_default.insert(std::string(table.path) + "." + std::string(key.name));
    });
    ASSERT_GT(with_default.size(), 35u);
    const std::string text = with_keys([&](const std::string& path) {
        return with_default.contains(path) && !of_both.contains(path);
    });
    ASSERT_NE(text.find("\nwaste = 0.10"), std::string::npos);
    const auto plain = parse_job(new_job_file(), "job.toml"), spelt = parse_job(text, "job.toml");
    ASSERT_TRUE(plain);
    ASSERT_TRUE(spelt) << spelt.error().message();
    EXPECT_EQ(spelt->effective_json, plain->effective_json);
}

TEST(NewJobFile, NamesEveryKeyThatTheReaderKnows) {
    const auto json = nlohmann::json::parse(parse_job(new_job_file(), "job.toml")->effective_json);
    const std::string text(new_job_file());
    for (const auto& [table, keys] : json.items()) {
        EXPECT_NE(text.find(table), std::string::npos) << table;
        const auto& object = keys.is_array() ? keys[0] : keys;
        if (!object.is_object()) continue;
        for (const auto& [key, unused] : object.items())
            EXPECT_NE(text.find(key + " = "), std::string::npos) << table << "." << key;
    }
}

/// The file with the model taken out and one block of measurements let in.
std::string measured_by(const std::string& block) {
    std::string out;
    bool in = false;
    std::istringstream lines{std::string(new_job_file())};
    for (std::string line; std::getline(lines, line);) {
        if (line.rfind("model = ", 0) == 0) continue;
        const bool table = line.rfind("#   [", 0) == 0;
        if (table) in = line.find("[" + block) != std::string::npos;
        if (line.rfind("#   ", 0) != 0) in = false;
        out += (in ? line.substr(4) : line) + "\n";
    }
    return out;
}

TEST(NewJobFile, MeasurementsAreGoodAsTheyStand) {
    const auto battens = parse_job(measured_by("hull.measured]"), "job.toml");
    ASSERT_TRUE(battens) << battens.error().message();
    ASSERT_TRUE(battens->hull.measured);
    EXPECT_DOUBLE_EQ(battens->hull.measured->gap_across, 21.0);
    ASSERT_TRUE(battens->hull.measured->gap_across_ends);
    const auto grid = parse_job(measured_by("hull.grid]"), "job.toml");
    ASSERT_TRUE(grid) << grid.error().message();
    EXPECT_EQ(grid->hull.grid->offsets.size(), 3u);
    const auto corner = parse_job(measured_by("hull.corner]"), "job.toml");
    ASSERT_TRUE(corner) << corner.error().message();
    ASSERT_TRUE(corner->hull.corner);
    EXPECT_DOUBLE_EQ(corner->hull.corner->radius.value(), 20.0);
    EXPECT_FALSE(corner->hull.corner->upright);
    const auto sections = parse_job(measured_by("hull.sections]"), "job.toml");
    ASSERT_TRUE(sections) << sections.error().message();
    EXPECT_EQ(sections->hull.sections->stations.size(), 3u);
}

}  // namespace
}  // namespace tearline::job

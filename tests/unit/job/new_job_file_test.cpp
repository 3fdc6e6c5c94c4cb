#include "core/job/new_job_file.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>

#include "core/job/read_job.h"

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

/// The text with the "#" taken away before a key, where `wanted` holds; other comments stay.
template <class Wanted>
std::string with_keys(Wanted wanted) {
    std::string out;
    std::istringstream lines{std::string(new_job_file())};
    for (std::string line; std::getline(lines, line);) {
        std::string key;
        if (line.rfind("# ", 0) == 0) key = line.substr(2, line.find(" =") - 2);
        const bool is_key =
            key.find_first_not_of(
                "abcdefghijklmnopqrstuvwxyz_ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") ==
                std::string::npos &&
            !key.empty() && line.find(" = ") != std::string::npos;
        const bool is_table = line.rfind("# [", 0) == 0;
        out += ((is_key && wanted(key)) || is_table ? line.substr(2) : line) + "\n";
    }
    return out;
}

TEST(NewJobFile, CommentedKeysAreGoodAsTheyStand) {
    // All but those that exclude what the file already says.
    const auto text = with_keys([](const std::string& key) {
        return key != "outline" && key != "length" && key != "height" && key != "fill" &&
               key != "hardener_parts" && key != "fill_to";
    });
    const auto job = parse_job(text, "job.toml");
    ASSERT_TRUE(job) << job.error().message() << "\n" << text;
    EXPECT_EQ(job->layup.stack.size(), 3u);
    EXPECT_DOUBLE_EQ(job->resin.gel_minutes->value(), 20.0);
    EXPECT_EQ(job->prices->currency, "EUR");
}

TEST(NewJobFile, ShowsTheDefaultsThatTheProgramUses) {
    // Keys whose comment shows a default: reading them changes nothing.
    const std::set<std::string> with_default = {"display_units",
                                                "surface",
                                                "outward",
                                                "join",
                                                "side",
                                                "ratio",
                                                "least_step",
                                                "safety_factor",
                                                "order",
                                                "fill",
                                                "fill_to",
                                                "fairing_skim",
                                                "cover",
                                                "cover_step",
                                                "position",
                                                "copies",
                                                "density",
                                                "cured_density",
                                                "hardener_percent",
                                                "hardener_basis",
                                                "hardener_range",
                                                "hardener_density",
                                                "least_temperature",
                                                "recoat_hours",
                                                "waxed",
                                                "cup",
                                                "waste",
                                                "prime",
                                                "can",
                                                "finish",
                                                "wet_out_rate",
                                                "use_fraction",
                                                "temperature",
                                                "stage_thickness",
                                                "cutting_gap"};
    std::string text =
        with_keys([&](const std::string& key) { return with_default.count(key) > 0; });
    // The optional tables at the end and among the fabrics have no defaults.
    for (const std::string table : {"[[fabric]]", "[old_laminate]", "[prices]"})
        text.replace(text.find(table), table.size(), "");
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
    const auto sections = parse_job(measured_by("hull.sections]"), "job.toml");
    ASSERT_TRUE(sections) << sections.error().message();
    EXPECT_EQ(sections->hull.sections->stations.size(), 3u);
}

}  // namespace
}  // namespace tearline::job

#include "core/batch/result_line.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "core/batch/result_rows.h"
#include "core/batch/results_file.h"
#include "core/batch/summary.h"

namespace tearline::batch {
namespace {

namespace fs = std::filesystem;

templates::LaidPiece stretched(double strain, std::optional<double> shear) {
    templates::LaidPiece piece;
    piece.piece.strain_max = strain;
    piece.piece.shear_max = shear;
    return piece;
}

const files::Origin origin{"h", std::nullopt, "o", "p"};

/// Two plies: mat stretched by 1 and 3 %, cloth sheared by 9 degrees.
Plan small_plan() {
    Plan plan;
    plan.plies.resize(2);
    plan.plies[0].pieces = {stretched(0.03, std::nullopt), stretched(0.01, std::nullopt)};
    plan.plies[1].pieces = {stretched(0.5, 9.0)};
    plan.quantities.totals.glass_g = 1234.5;
    plan.warnings.push_back({.cause = warn::NoFloor{8.0, 9.0}});
    plan.warnings.push_back({.cause = warn::NoFloor{8.0, 9.0}, .ply = 2});
    return plan;
}

Told done(const Plan& plan) {
    return {"jobs/a \"b\".toml", {}, "", origin, &plan, "plans/a", false};
}

TEST(ResultLine, IsReadBackAsItWasTold) {
    const Plan plan = small_plan();
    const std::string line = with_cost(result_text(done(plan)), 1.23456, 78.96);
    EXPECT_EQ(line.find('\n'), std::string::npos);
    const auto row = row_of(line);
    ASSERT_TRUE(row);
    EXPECT_EQ(row->job, "jobs/a \"b\".toml");
    EXPECT_EQ(row->folder, "plans/a");
    EXPECT_TRUE(row->status.is_done());
    EXPECT_EQ(row->figure("glass_g"), 1234.5);
    EXPECT_EQ(row->figure("strain_max"), 0.03);  // of mat alone
    EXPECT_EQ(row->figure("shear_max"), 9.0);
    EXPECT_EQ(row->figure("seconds"), 1.235);
    EXPECT_EQ(row->figure("peak_MB"), 79.0);
    const Warning warning{.cause = warn::NoFloor{8.0, 9.0}};
    EXPECT_EQ(row->warnings.at(warning.rank()), 2);
}

TEST(ResultLine, OfARefusedJobHasItsReasonAndNoFigures) {
    const auto row = row_of(with_cost(
        result_text({"a.toml", {Status::Kind::exited, 4}, "no\nroom", origin}), 0.5, 10.0));
    ASSERT_TRUE(row);
    EXPECT_EQ(row->message, "no\nroom");
    EXPECT_EQ(row->status.exit, 4);
    EXPECT_TRUE(row->status.is_final());
    EXPECT_FALSE(row->figure("glass_g"));
    EXPECT_FALSE(row->figure("strain_max"));
    EXPECT_TRUE(row->warnings.empty());
}

TEST(ResultLine, TellsWhatVariantsAreComparedByOnlyWhenAsked) {
    Plan plan = small_plan();
    plan.job.scarf.ratio = 15.0;
    // 200 points are thinned to at most 90; a ring below -1 is for the grinder alone.
    Loop2 ring;
    for (int i = 0; i < 200; ++i) ring.emplace_back(i, 0.123);
    plan.place.grind_guide.rings.resize(2);
    plan.place.grind_guide.rings[0].ply = 1;
    plan.place.grind_guide.rings[0].loops = {ring};
    plan.place.grind_guide.rings[1].ply = -2;
    Told told = done(plan);
    EXPECT_FALSE(nlohmann::json::parse(result_text(told)).contains("what_if"));
    told.what_if = true;
    const auto what_if = nlohmann::json::parse(result_text(told))["what_if"];
    EXPECT_EQ(what_if["ratio"], 15.0);
    EXPECT_TRUE(what_if["required_ratio"].is_null());
    EXPECT_TRUE(what_if["laminate"].is_null());
    ASSERT_EQ(what_if["rings"].size(), 1u);
    const auto& loop = what_if["rings"][0]["loops"][0];
    EXPECT_LE(loop.size(), 90u);
    EXPECT_GE(loop.size(), 60u);
    EXPECT_EQ(loop[0][1], 0.1);  // to a tenth of a millimetre
}

class SummaryFiles : public testing::Test {
protected:
    void SetUp() override {
        fs::remove_all(room_);
        fs::create_directories(room_);
    }
    void TearDown() override { fs::remove_all(room_); }

    /// Every line of a file of the folder.
    [[nodiscard]] std::vector<std::string> lines_of(const std::string& name) const {
        std::ifstream in(room_ / name);
        std::vector<std::string> lines;
        for (std::string line; std::getline(in, line);) lines.push_back(line);
        return lines;
    }

    const fs::path room_ =
        fs::temp_directory_path() / ("tearline-summary-" + std::to_string(getpid()));
};

TEST_F(SummaryFiles, HaveALineAJobInTheOrderOfNames) {
    const Plan plan = small_plan();
    Told second = done(plan), first = done(plan);
    second.job = "b.toml";
    first.job = "a.toml";
    std::ofstream(room_ / results_name({}))
        << with_cost(result_text(second), 2.0, 20.0) << '\n'
        << with_cost(result_text({"c.toml", {Status::Kind::over_limit, 0}, "too long", origin}),
                     9.0, 1.0)
        << '\n'
        << with_cost(result_text(first), 1.0, 10.0) << '\n';
    const auto summary = write_summary(room_);
    ASSERT_TRUE(summary) << summary.error().message();
    const std::vector<std::string> lines = lines_of("summary.csv");
    ASSERT_EQ(lines.size(), 4u);
    EXPECT_TRUE(lines[0].starts_with("job,status,message,folder,"));
    EXPECT_NE(lines[1].find("a.toml"), std::string::npos);
    EXPECT_NE(lines[1].find("1234.5"), std::string::npos);
    EXPECT_NE(lines[2].find("b.toml"), std::string::npos);
    EXPECT_NE(lines[3].find("limit"), std::string::npos);
    const auto commas = [](const std::string& line) {
        return std::count(line.begin(), line.end(), ',');
    };
    for (const std::string& line : lines) EXPECT_EQ(commas(line), commas(lines[0])) << line;
    EXPECT_FALSE(lines_of("summary.html").empty());
    // Nothing else is left behind.
    EXPECT_EQ(std::distance(fs::directory_iterator(room_), fs::directory_iterator()), 3);
}

TEST_F(SummaryFiles, OfAFolderWithoutResultsAreRefused) {
    const auto summary = write_summary(room_);
    ASSERT_FALSE(summary);
    EXPECT_EQ(summary.error().kind, ErrorKind::bad_input);
    EXPECT_TRUE(fs::is_empty(room_));
}

}  // namespace
}  // namespace tearline::batch

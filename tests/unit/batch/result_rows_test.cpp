#include "core/batch/result_rows.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

namespace tearline::batch {
namespace {

namespace fs = std::filesystem;

/// A line as a result has it, with more of its members.
std::string line(const std::string& more, const std::string& job = "a",
                 const std::string& status = "0") {
    return R"({"job":")" + job + R"(","status":)" + status +
           R"(,"sha256":{"job":"h","model":null,"options":"o","program":"p"})" +
           (more.empty() ? "" : "," + more) + "}";
}

TEST(RowOf, TakesFiguresOfTheTotalsAndFourBesides) {
    const auto row =
        row_of(line(R"("totals":{"glass_g":12.5,"hardener_g":null,"note":"x"},"strain_max":0.02,)"
                    R"("shear_max":null,"seconds":1.5,"peak_MB":64,"other":9)"));
    ASSERT_TRUE(row);
    const std::map<std::string, double> expected{
        {"glass_g", 12.5}, {"strain_max", 0.02}, {"seconds", 1.5}, {"peak_MB", 64.0}};
    EXPECT_EQ(row->figures, expected);
    EXPECT_EQ(row->figure("glass_g"), 12.5);
    EXPECT_FALSE(row->figure("hardener_g"));
    EXPECT_FALSE(row->figure("other"));
}

TEST(RowOf, CountsWarningsByRankAndNamesWhatIsToBeDecidedOnce) {
    const auto row = row_of(
        line(R"("warnings":[{"code":"b","rank":"stop"},{"code":"a","rank":"stop"},)"
             R"({"code":"b","rank":"stop"},{"code":"c","rank":"do"},{"code":"d","rank":"know"},)"
             R"({"code":"e","rank":"know"},{"code":"f","rank":"else"},7])"));
    ASSERT_TRUE(row);
    EXPECT_EQ(row->warnings.at(WarningRank::stop), 3);
    EXPECT_EQ(row->warnings.at(WarningRank::act), 1);
    EXPECT_EQ(row->warnings.at(WarningRank::know), 2);
    // In the order in which they were told.
    EXPECT_EQ(row->to_decide, (std::vector<std::string>{"b", "a"}));
}

TEST(RowOf, StandsWhateverElseALineLacks) {
    // A file that another version wrote, or a person edited: what is not there is not told.
    for (const char* more :
         {"", R"("totals":null,"warnings":null)", R"("totals":[1],"warnings":{})",
          R"("message":5,"folder":null,"seconds":"1")"}) {
        const auto row = row_of(line(more));
        ASSERT_TRUE(row) << more;
        EXPECT_TRUE(row->figures.empty()) << more;
        EXPECT_TRUE(row->warnings.empty() && row->to_decide.empty()) << more;
        EXPECT_EQ(row->message + row->folder, "") << more;
    }
}

TEST(RowOf, IsNothingOfWhatIsNoResult) {
    EXPECT_FALSE(row_of(""));
    EXPECT_FALSE(row_of(line("").substr(0, 30))) << "never ended";
    EXPECT_FALSE(row_of(R"({"job":"a","status":0})")) << "made from nobody knows what";
    EXPECT_FALSE(row_of(line("", "a", "\"else\"")));
    EXPECT_FALSE(row_of(line("", "a", "true")));
}

class Rows : public testing::Test {
protected:
    void SetUp() override {
        fs::remove_all(room_);
        fs::create_directories(room_);
    }
    void TearDown() override { fs::remove_all(room_); }

    void write(const std::string& name, const std::string& text) const {
        std::ofstream(room_ / name, std::ios::binary) << text;
    }
    /// Job and status of each row.
    [[nodiscard]] std::string read() const {
        const auto rows = read_rows(room_);
        if (!rows) return rows.error().message();
        std::string out;
        for (const ResultRow& row : rows->rows) out += row.job + row.status.json() + " ";
        return out + "twice " + std::to_string(rows->twice);
    }

    const fs::path room_ =
        fs::temp_directory_path() / ("tearline-rows-" + std::to_string(getpid()));
};

TEST_F(Rows, OfAJobInTwoFilesAreTheOneThatIsFinal) {
    write("results-1-of-2.jsonl", line("", "a", "\"limit\"") + "\n");
    write("results-2-of-2.jsonl", line("", "a", "4") + "\n");
    EXPECT_EQ(read(), "a4 twice 1");
    write("results.jsonl", line("", "a", "0") + "\n");
    // Files by their names: 4 was final before 0 was read, whichever is newer.
    EXPECT_EQ(read(), "a4 twice 2");
}

TEST_F(Rows, AreOfResultFilesAlone) {
    write("results.jsonl", line("", "a") + "\n");
    write("results-3-of-2.jsonl", line("", "b") + "\n");
    write("old results.jsonl", line("", "c") + "\n");
    EXPECT_EQ(read(), "a0 twice 0");
}

TEST_F(Rows, PassOverALineThatIsNoneAndOneThatNeverEnded) {
    write("results.jsonl", line("", "b") + "\nnothing\n" + line("", "a") + "\n" + line("", "c"));
    EXPECT_EQ(read(), "a0 b0 twice 0");
}

TEST_F(Rows, OfAFolderWithoutAnySayWhatToName) {
    EXPECT_NE(read().find("results-K-of-N.jsonl"), std::string::npos) << read();
    const auto none = read_rows(room_ / "none");
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().kind, ErrorKind::bad_input);
    EXPECT_NE(none.error().message().find("cannot be read"), std::string::npos);
}

}  // namespace
}  // namespace tearline::batch

#include "core/batch/results_file.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "core/batch/result_rows.h"

namespace tearline::batch::results_file_test {
namespace {

namespace fs = std::filesystem;

std::string line(const std::string& job, const std::string& status, const std::string& hash = "h") {
    return R"({"job":")" + job + R"(","status":)" + status + R"(,"message":"","sha256":{"job":")" +
           hash + R"(","model":null,"options":"o","program":"p"},"totals":null,"warnings":[]})";
}

class Results : public testing::Test {
protected:
    void SetUp() override {
        room = fs::temp_directory_path() /
               ("tearline-results-" +
                std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
        fs::remove_all(room);
        fs::create_directories(room);
        file = room / "results.jsonl";
    }
    void TearDown() override { fs::remove_all(room); }

    void write(const std::string& text) const { std::ofstream(file, std::ios::binary) << text; }
    [[nodiscard]] std::string text() const {
        std::ifstream in(file, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    static bool final_alone(const KnownResult& known) { return known.status.is_final(); }

    fs::path room, file;
};

TEST_F(Results, KeepFinalLinesAndCutOffAnUnendedOne) {
    write(line("a", "0") + "\n" + line("b", "1") + "\n" + line("c", "3") + "\n" +
          line("d", "\"signal\"") + "\n" + line("e", "\"limit\"") + "\n" + line("f", "4") + "\n" +
          line("g", "5") + "\nnot JSON\n" + line("h", "0"));
    {
        auto results = ResultsFile::open(file, final_alone);
        ASSERT_TRUE(results) << results.error().message();
        EXPECT_EQ(text(), line("a", "0") + "\n" + line("c", "3") + "\n" + line("f", "4") + "\n");
        ASSERT_TRUE(results->add(line("i", "0")));
    }
    EXPECT_EQ(text(), line("a", "0") + "\n" + line("c", "3") + "\n" + line("f", "4") + "\n" +
                          line("i", "0") + "\n");
    // Nothing but the results stands there.
    EXPECT_EQ(std::distance(fs::directory_iterator(room), fs::directory_iterator()), 1);
}

TEST_F(Results, ThatAllStayAreNotWrittenAnew) {
    write(line("a", "0") + "\n");
    const auto before = fs::last_write_time(file);
    ASSERT_TRUE(ResultsFile::open(file, final_alone));
    EXPECT_EQ(fs::last_write_time(file), before);
}

TEST_F(Results, AreHeldByOneRun) {
    const auto first = ResultsFile::open(file, final_alone);
    ASSERT_TRUE(first);
    const auto second = ResultsFile::open(file, final_alone);
    ASSERT_FALSE(second);
    EXPECT_EQ(second.error().kind, ErrorKind::output_failed);
    EXPECT_NE(second.error().message().find("another run"), std::string::npos);
}

TEST_F(Results, AreHeldWhenTheyWereWrittenAnewToo) {
    write(line("a", "1") + "\n");
    const auto first = ResultsFile::open(file, final_alone);
    ASSERT_TRUE(first);
    EXPECT_FALSE(ResultsFile::open(file, final_alone));
}

TEST(ResultsName, IsToldFromOthers) {
    EXPECT_EQ(results_name({}), "results.jsonl");
    EXPECT_EQ(results_name(Slice{3, 8}), "results-3-of-8.jsonl");
    EXPECT_TRUE(is_results_name("results-3-of-8.jsonl"));
    for (const char* name : {"results-9-of-8.jsonl", "results-3-of-.jsonl", "results-3.jsonl",
                             ".results.jsonl.new", "results.json", "results-3-of-8-of-9.jsonl"})
        EXPECT_FALSE(is_results_name(name)) << name;
}

TEST(ReadResult, TakesOursAlone) {
    const auto known = read_result(line("a", "3", "abc"));
    ASSERT_TRUE(known);
    EXPECT_EQ(known->job, "a");
    EXPECT_EQ(known->origin.job, "abc");
    EXPECT_FALSE(known->origin.model);
    EXPECT_EQ(known->origin.options, "o");
    EXPECT_TRUE(known->status.is_final());
    EXPECT_FALSE(known->status.is_done());
    for (const std::string& text :
         {std::string("{}"), std::string("[1]"), std::string("x"), line("a", "\"dead\""),
          line("a", "null"), line("a", "-1"), line("a", "256"), line("a", "4294967296"),
          line("a", "18446744073709551619"), line("a", "0").substr(0, 40)})
        EXPECT_FALSE(read_result(text)) << text;
}

TEST_F(Results, OfSlicesAreOneTableWithEachJobOnce) {
    std::ofstream(room / "results-1-of-2.jsonl") << line("b", "0") << "\n"
                                                 << line("a", "1") << "\n";
    std::ofstream(room / "results-2-of-2.jsonl") << line("c", "3") << "\n";
    write(line("a", "0") + "\n" + line("b", "4") + "\n" + line("z", "0"));
    const auto rows = read_rows(room);
    ASSERT_TRUE(rows);
    std::string seen;
    for (const ResultRow& row : rows->rows) seen += row.job + row.status.json() + " ";
    EXPECT_EQ(seen, "a0 b0 c3 ");
    EXPECT_EQ(rows->twice, 2);
    EXPECT_FALSE(read_rows(room / "none"));
}

}  // namespace
}  // namespace tearline::batch::results_file_test

#include "core/batch/result_lines.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <vector>

namespace tearline::batch {
namespace {

class ResultLinesOf : public ::testing::Test {
protected:
    ~ResultLinesOf() override { std::filesystem::remove(file_); }
    void write(const std::string& text) { std::ofstream(file_, std::ios::binary) << text; }
    const std::filesystem::path file_ =
        std::filesystem::temp_directory_path() / ("lines-" + std::to_string(::getpid()));
};

/// What std::getline makes of the same text, and whether each has its end: by hand.
TEST_F(ResultLinesOf, AreThoseOfTheFile) {
    const std::string block(1u << 16u, 'x');  // as long as what is read at once, and about it
    for (const std::string& longest : {std::string(), block, block.substr(1), block.substr(2),
                                       block + "y", block + block + "z"}) {
        write("one\n\n" + longest + "\ntwo");
        ResultLines lines(file_);
        std::vector<std::string> found;
        while (lines.next()) {
            found.push_back(lines.line());
            EXPECT_EQ(lines.is_whole(), lines.line() != "two");
        }
        EXPECT_EQ(found, (std::vector<std::string>{"one", "", longest, "two"}));
        EXPECT_FALSE(lines.too_long());
    }
}

TEST_F(ResultLinesOf, EndAtOneThatIsLongerThanAnyResult) {
    write("one\n");
    std::filesystem::resize_file(file_, 100'000'000'000);  // zeros without blocks on the disk
    ResultLines lines(file_);
    EXPECT_TRUE(lines.next());
    EXPECT_FALSE(lines.next());
    EXPECT_TRUE(lines.too_long());
}

}  // namespace
}  // namespace tearline::batch

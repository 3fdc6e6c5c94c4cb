#include "core/job/in_file.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "core/job/read_job.h"

namespace tearline::job {
namespace {

Job sample_job() {
    std::ifstream in(TEARLINE_SAMPLES "/panel.toml");
    std::stringstream text;
    text << in.rdbuf();
    return parse_job(text.str(), "panel.toml").value();
}

/// The line that a text begins in the sample, counted without the program.
int line_with(const std::string& beginning) {
    std::ifstream in(TEARLINE_SAMPLES "/panel.toml");
    std::string line;
    for (int number = 1; std::getline(in, line); ++number)
        if (line.starts_with(beginning)) return number;
    return -1;
}

TEST(InFile, FindsTheLineOfAKeyAndOfAPartOfIt) {
    const Job job = sample_job();
    const int depth = line_with("depth"), centre = line_with("centre");
    ASSERT_GT(depth, 0);
    ASSERT_GT(centre, 0);
    EXPECT_EQ(in_file(job, bad_input("damage.depth", "no").value()).line, depth);
    EXPECT_EQ(in_file(job, bad_input("damage.centre[2]", "no").value()).line, centre);
    EXPECT_EQ(in_file(job, bad_input("damage.depth", "no").value()).message(),
              "panel.toml:" + std::to_string(depth) + ": damage.depth: no");
}

TEST(InFile, NamesTheTableOfAKeyThatHasItsDefault) {
    const Job job = sample_job();
    EXPECT_EQ(in_file(job, bad_input("damage.round", "no").value()).line, line_with("[damage]"));
    EXPECT_EQ(in_file(job, bad_input("nowhere.at_all", "no").value()).line, 0);
    EXPECT_EQ(in_file(job, no_safe_answer("no").value()).message(), "panel.toml: no");
}

TEST(InFile, LeavesALineAndAnotherFileAsTheyAre) {
    const Job job = sample_job();
    Error known = bad_input("damage.depth", "no").value();
    known.line = 77;
    EXPECT_EQ(in_file(job, known).line, 77);
    const Error other = bad_file("other.toml", "no").value();
    EXPECT_EQ(in_file(job, other).message(), "other.toml: no");
}

}  // namespace
}  // namespace tearline::job

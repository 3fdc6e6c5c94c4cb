#include "core/batch/run_batch.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "core/base/this_process.h"
#include "core/batch/results_file.h"
#include "tests/support/mesh_files.h"

namespace tearline::batch {
namespace {

namespace fs = std::filesystem;

/// A list of jobs of which none can be planned, so that each ends at once.
class ABatch : public testing::Test {
protected:
    void SetUp() override {
        if (!has_one_thread()) GTEST_SKIP() << "workers are copies of a process of one thread";
        for (const char* name : {"a.toml", "b.toml", "c.toml"}) write(name, "tearline = 0\n");
        list_ = write("list", "a.toml\nb.toml\nc.toml\n");
        room_ = list_.parent_path();
    }
    fs::path write(const std::string& name, const std::string& text) const {
        return folder_.write(name, text);
    }

    Result<BatchProgress> run(BatchOptions options = {}, const std::string& into = "out") {
        complaints_.clear();
        told_.clear();
        options.workers = 1;
        options.complaint = [this](const std::string& job, const std::string& why) {
            complaints_.push_back(job + ": " + why);
        };
        options.progress = [this](const BatchProgress& progress) { told_.push_back(progress); };
        return run_batch(list_, into.empty() ? fs::path() : room_ / into, options);
    }
    /// "a3 c3": jobs and statuses in the order of a file's lines.
    [[nodiscard]] std::string lines(const std::string& name = "results.jsonl") const {
        std::ifstream in(room_ / "out" / name);
        std::string out;
        for (std::string line; std::getline(in, line);)
            if (const auto known = read_result(line))
                out += (out.empty() ? "" : " ") + known->job.substr(0, 1) + known->status.json();
        return out;
    }

    const test::Folder folder_;
    fs::path list_, room_;
    std::vector<std::string> complaints_;
    std::vector<BatchProgress> told_;
};

TEST_F(ABatch, HasALineAJobAndSaysWhyEachIsRefused) {
    const auto ran = run();
    ASSERT_TRUE(ran) << ran.error().message();
    EXPECT_EQ(ran->jobs, 3u);
    EXPECT_EQ(ran->skipped, 0u);
    EXPECT_EQ(ran->refused, 3u);
    EXPECT_EQ(ran->done + ran->failed, 0u);
    EXPECT_EQ(lines(), "a3 b3 c3");
    ASSERT_EQ(complaints_.size(), 3u);
    EXPECT_TRUE(complaints_[1].starts_with("b.toml: ")) << complaints_[1];
    EXPECT_NE(complaints_[1].find("tearline"), std::string::npos) << "the key that is wrong";
    ASSERT_FALSE(told_.empty());
    EXPECT_EQ(told_.back().left(), 0u);
    for (std::size_t i = 1; i < told_.size(); ++i)
        EXPECT_GE(told_[i].seconds, told_[i - 1].seconds);
    EXPECT_FALSE(fs::exists(room_ / "out" / "plans")) << "nothing was planned";
}

TEST_F(ABatch, PassesOverWhatIsRefusedAlready) {
    ASSERT_TRUE(run());
    const auto again = run();
    ASSERT_TRUE(again) << again.error().message();
    EXPECT_EQ(again->skipped, 3u);
    EXPECT_EQ(again->ended(), 0u);
    EXPECT_TRUE(complaints_.empty());
    EXPECT_EQ(lines(), "a3 b3 c3");
}

TEST_F(ABatch, DoesAgainWhoseJobFileHasChanged) {
    ASSERT_TRUE(run());
    write("b.toml", "tearline = 2\n");
    const auto again = run();
    ASSERT_TRUE(again) << again.error().message();
    EXPECT_EQ(again->skipped, 2u);
    EXPECT_EQ(again->refused, 1u);
    EXPECT_EQ(lines(), "a3 c3 b3") << "its old line went, a new one came";
}

TEST_F(ABatch, DoesAgainWhatIsNotFinalAndKeepsOtherListsLines) {
    ASSERT_TRUE(run());
    std::string text;
    {
        std::ifstream in(room_ / "out/results.jsonl");
        text.assign(std::istreambuf_iterator<char>(in), {});
    }
    // b was stopped for its memory; another list's job, of other sources, stands there too.
    const auto at = text.find("\"b.toml\",\"status\":3");
    ASSERT_NE(at, std::string::npos) << text;
    text.replace(at, 19, "\"b.toml\",\"status\":\"limit\"");
    text += R"({"job":"z","status":0,"sha256":{"job":"?","model":null,"options":"","program":""}})"
            "\n";
    std::ofstream(room_ / "out/results.jsonl") << text;
    const auto again = run();
    ASSERT_TRUE(again) << again.error().message();
    EXPECT_EQ(again->skipped, 2u);
    EXPECT_EQ(again->ended(), 1u);
    EXPECT_EQ(lines(), "a3 c3 z0 b3");
}

TEST_F(ABatch, OfASliceDoesItsJobsAlone) {
    BatchOptions options;
    options.slice = Slice{1, 2};
    const auto odd = run(options);
    ASSERT_TRUE(odd) << odd.error().message();
    EXPECT_EQ(odd->jobs, 2u);
    EXPECT_EQ(lines("results-1-of-2.jsonl"), "a3 c3");
    options.slice = Slice{2, 2};
    ASSERT_TRUE(run(options));
    EXPECT_EQ(lines("results-2-of-2.jsonl"), "b3");
    EXPECT_FALSE(fs::exists(room_ / "out/results.jsonl"));
}

TEST_F(ABatch, RefusesAFolderThatHoldsAPlan) {
    fs::create_directories(room_ / "out");
    write("out/manifest.json", "{}");
    const auto refused = run();
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::output_failed);
    EXPECT_NE(refused.error().message().find("holds a plan of its own"), std::string::npos);
    EXPECT_FALSE(fs::exists(room_ / "out/results.jsonl"));
}

TEST_F(ABatch, RefusesAFileInTheWayAndAnEmptyName) {
    write("out", "");
    const auto in_the_way = run();
    ASSERT_FALSE(in_the_way);
    EXPECT_EQ(in_the_way.error().kind, ErrorKind::output_failed);
    EXPECT_NE(in_the_way.error().message().find("out: cannot be written"), std::string::npos)
        << in_the_way.error().message();
    const auto unnamed = run({}, "");
    ASSERT_FALSE(unnamed);
    EXPECT_EQ(unnamed.error().message(), "-o: an empty name is no folder");
}

TEST_F(ABatch, WithoutAListWritesNothing) {
    list_ = room_ / "no list";
    const auto refused = run();
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::bad_input);
    EXPECT_FALSE(fs::exists(room_ / "out"));
}

TEST_F(ABatch, IsOneRunsAtATime) {
    fs::create_directories(room_ / "out");
    const auto held =
        ResultsFile::open(room_ / "out/results.jsonl", [](const KnownResult&) { return true; });
    ASSERT_TRUE(held);
    const auto refused = run();
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().message().find("another run"), std::string::npos);
}

}  // namespace
}  // namespace tearline::batch

#include "core/batch/run_tasks.h"

#include <gtest/gtest.h>

#include <csignal>
#include <map>
#include <nlohmann/json.hpp>

#include "core/base/this_process.h"
#include "core/files/interruption.h"
#include "tests/support/mesh_files.h"

namespace tearline::batch {
namespace {

/// What became of some tasks, each a job file in a folder of the test's own.
class Tasks : public testing::Test {
protected:
    /// A worker is a copy of this process, which only one of one thread can make.
    void SetUp() override {
        if (!has_one_thread()) GTEST_SKIP() << "a thread that is not ours runs here";
        room_ = folder_.write("wrong.toml", "tearline = 0\n").parent_path();
    }

    /// @param jobs  their files; none of them is a job that could be planned
    void run(const std::vector<std::string>& jobs, std::size_t workers) {
        const auto task = [&](std::size_t index) {
            asked_.push_back(index);
            Task one;
            one.room = room_;
            one.job = jobs[index];
            one.program = "program";
            return one;
        };
        const auto finished = [&](std::size_t index, const Outcome& outcome) -> Result<void> {
            ended_.push_back(index);
            outcome_[index] = outcome;
            if (static_cast<int>(ended_.size()) == stop_at_) return output_failed("no room");
            return {};
        };
        ran_ = run_tasks(jobs.size(), task, finished, {workers, [this] { ++ticks_; }});
    }
    [[nodiscard]] nlohmann::json line(std::size_t index) const {
        return nlohmann::json::parse(outcome_.at(index).line);
    }

    const test::Folder folder_;
    std::filesystem::path room_;
    int stop_at_ = 0, ticks_ = 0;
    std::vector<std::size_t> asked_, ended_;
    std::map<std::size_t, Outcome> outcome_;
    Result<void> ran_;
};

using Order = std::vector<std::size_t>;

TEST_F(Tasks, AreToldOnceEach) {
    run({"wrong.toml", "missing.toml", "wrong.toml"}, 1);
    ASSERT_TRUE(ran_) << ran_.error().message();
    // One worker: one after the other, in order; what is refused is not tried again.
    EXPECT_EQ(asked_, (Order{0, 1, 2}));
    EXPECT_EQ(ended_, (Order{0, 1, 2}));
    EXPECT_GE(ticks_, 3);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_EQ(outcome_[i].status.json(), "3") << i;
        EXPECT_EQ(line(i)["status"], 3);
    }
    EXPECT_EQ(line(1)["job"], "missing.toml");
    EXPECT_NE(line(0)["message"].get<std::string>().find("tearline"), std::string::npos);
    EXPECT_NE(line(1)["message"].get<std::string>().find("missing.toml"), std::string::npos);
    // What only who started them knows: time by the clock, and memory.
    EXPECT_GE(line(0)["seconds"], 0.0);  // to the millisecond: it may be none
    EXPECT_LT(line(0)["seconds"], 60.0);
    EXPECT_GT(line(0)["peak_MB"], 1.0);
}

TEST_F(Tasks, ThatAreNotFinalAreTriedOnceMoreAfterAllOthers) {
    // A room that is not there is no fault of the job: exit 5.
    room_ = "/nowhere/at/all";
    run({"a.toml", "b.toml"}, 1);
    ASSERT_TRUE(ran_) << ran_.error().message();
    EXPECT_EQ(asked_, (Order{0, 1, 0, 1}));
    EXPECT_EQ(ended_, (Order{0, 1}));
    EXPECT_EQ(outcome_[0].status.json(), "5");
    EXPECT_NE(line(1)["message"].get<std::string>().find("/nowhere/at/all"), std::string::npos);
}

TEST_F(Tasks, OfSeveralAtOnceAreAllDone) {
    run(std::vector<std::string>(9, "wrong.toml"), 3);
    ASSERT_TRUE(ran_) << ran_.error().message();
    EXPECT_EQ(asked_, (Order{0, 1, 2, 3, 4, 5, 6, 7, 8})) << "begun in order";
    EXPECT_EQ(ended_.size(), 9u);
    EXPECT_EQ(outcome_.size(), 9u);
}

TEST_F(Tasks, EndWhereWhoIsToldFails) {
    stop_at_ = 2;
    run(std::vector<std::string>(5, "wrong.toml"), 1);
    ASSERT_FALSE(ran_);
    EXPECT_EQ(ran_.error().message(), "no room");
    EXPECT_EQ(ended_.size(), 2u);
    EXPECT_EQ(asked_.size(), 2u) << "no further one is begun";
}

TEST_F(Tasks, OfNoneAreDoneAtOnce) {
    run({}, 0);
    EXPECT_TRUE(ran_);
    EXPECT_TRUE(asked_.empty());
    EXPECT_EQ(ticks_, 0);
}

TEST_F(Tasks, StoppedByASignalSaySo) {
    // Nothing that a terminal sends may end the test: what was noted is raised again at the end.
    struct sigaction pass {
    }, before{};
    pass.sa_handler = [](int) {};
    sigaction(SIGHUP, &pass, &before);
    {
        const files::Interruption noting;
        raise(SIGHUP);
        run({"wrong.toml"}, 1);
    }
    sigaction(SIGHUP, &before, nullptr);
    ASSERT_FALSE(ran_);
    EXPECT_EQ(ran_.error().kind, ErrorKind::output_failed);
    EXPECT_EQ(ran_.error().message(), "stopped by a signal");
    EXPECT_TRUE(asked_.empty());
}

}  // namespace
}  // namespace tearline::batch

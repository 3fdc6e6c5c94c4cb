#include "core/batch/task.h"

#include <gtest/gtest.h>

#include "core/batch/run_batch.h"

namespace tearline::batch {
namespace {

Status exited(int with) {
    return {Status::Kind::exited, with};
}

TEST(Status, IsFinalWhereAnotherTryWouldEndTheSame) {
    // The exit statuses of `tearline plan`: 0 done, 3 bad input, 4 no safe answer; 1 is a fault of
    // the program, 5 a disk, 6 memory: another day they may end otherwise.
    for (const int with : {0, 3, 4}) EXPECT_TRUE(exited(with).is_final()) << with;
    for (const int with : {1, 2, 5, 6, 127}) EXPECT_FALSE(exited(with).is_final()) << with;
    // Whatever stands in `exit` of what never exited.
    EXPECT_FALSE((Status{Status::Kind::by_signal, 0}.is_final()));
    EXPECT_FALSE((Status{Status::Kind::over_limit, 3}.is_final()));
}

TEST(Status, IsDoneWhenItExitedWithNothingWrong) {
    EXPECT_TRUE(exited(0).is_done());
    EXPECT_FALSE(exited(3).is_done());
    EXPECT_FALSE((Status{Status::Kind::by_signal, 0}.is_done()));
    EXPECT_FALSE((Status{Status::Kind::over_limit, 0}.is_done()));
}

TEST(Status, InJsonIsANumberOrAWord) {
    EXPECT_EQ(exited(4).json(), "4");
    EXPECT_EQ((Status{Status::Kind::by_signal, 4}.json()), "\"signal\"");
    EXPECT_EQ((Status{Status::Kind::over_limit, 4}.json()), "\"limit\"");
}

TEST(JobLimits, GiveTheClockTenTimesTheProcessorsTimeAndAMinute) {
    // By hand: a job that waits for a slow disk has ten times as long, one of no time a minute.
    JobLimits limits;
    EXPECT_EQ(limits.clock_seconds(), 3060.0);
    limits.seconds = 2.0;
    EXPECT_EQ(limits.clock_seconds(), 80.0);
}

TEST(BatchProgress, CountsWhatEndedAndWhatIsLeft) {
    BatchProgress progress;
    progress.jobs = 40;
    progress.skipped = 10;
    progress.done = 6;
    progress.refused = 3;
    progress.failed = 1;
    EXPECT_EQ(progress.ended(), 10u);
    EXPECT_EQ(progress.left(), 20u);
}

TEST(BatchProgress, ExpectsTheRestToTakeAsLongAsWhatHasEnded) {
    // By hand: 10 jobs in 50 s, 20 are left: 100 s. Those passed over took no time and tell none.
    BatchProgress progress;
    progress.jobs = 40;
    progress.skipped = 10;
    progress.seconds = 50.0;
    EXPECT_FALSE(progress.seconds_left()) << "none has ended";
    progress.done = 6;
    progress.refused = 3;
    progress.failed = 1;
    ASSERT_TRUE(progress.seconds_left());
    EXPECT_DOUBLE_EQ(*progress.seconds_left(), 100.0);
    progress.done = 26;
    EXPECT_DOUBLE_EQ(*progress.seconds_left(), 0.0);
}

TEST(ResultsFileName, StandsInTheFolder) {
    EXPECT_EQ(results_file("there", {}), "there/results.jsonl");
    EXPECT_EQ(results_file("there", Slice{2, 5}), "there/results-2-of-5.jsonl");
}

}  // namespace
}  // namespace tearline::batch

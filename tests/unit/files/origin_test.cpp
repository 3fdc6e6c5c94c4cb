#include "core/files/origin.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>

#include "core/base/sha256.h"
#include "core/files/interruption.h"

namespace tearline::files {
namespace {

namespace fs = std::filesystem;

class ModelsOfAJob : public ::testing::Test {
protected:
    void SetUp() override {
        folder_ = fs::temp_directory_path() / ("tearline-origin-" + std::to_string(getpid()));
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    fs::path file(const std::string& name, const std::string& bytes) const {
        std::ofstream(folder_ / name, std::ios::binary) << bytes;
        return folder_ / name;
    }

    fs::path folder_;
};

// FIPS 180-2, appendix B.1: the hash of "abc".
constexpr const char* of_abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

TEST_F(ModelsOfAJob, AreToldByTheirBytes) {
    job::Job job;
    job.hull.model = file("hull.stl", "abc");
    EXPECT_EQ(models_sha256(job).value(), of_abc);
    EXPECT_EQ(models_sha256(job, of_abc).value(), of_abc) << "known already, read by nobody";
}

TEST_F(ModelsOfAJob, OfSeveralAreToldByAllInTheOrderOfTheJobFile) {
    job::Job job;
    job.hull.model = file("hull.stl", "abc");
    job.damage.scan = job::DishScan{};
    job.damage.scan->model = file("dish.ply", "dish");
    job::DishScan after;
    after.model = file("after.ply", "after");
    job.damage.scans_after = {after};
    const std::string all = sha256_hex(of_abc + sha256_hex("dish") + sha256_hex("after"));
    EXPECT_EQ(models_sha256(job).value(), all);
    EXPECT_EQ(models_sha256(job, of_abc).value(), all) << "the hull is not told twice";
}

TEST_F(ModelsOfAJob, AreNoneOfAHullMeasuredByHandButForItsScans) {
    job::Job job;
    job.hull.measured = job::BattenGaps{};
    EXPECT_FALSE(models_sha256(job).value());
    EXPECT_FALSE(models_sha256(job, of_abc).value());
    job.damage.scan = job::DishScan{};
    job.damage.scan->model = file("dish.ply", "abc");
    EXPECT_EQ(models_sha256(job).value(), of_abc);
}

TEST_F(ModelsOfAJob, ThatCannotBeReadAreNamed) {
    job::Job job;
    job.hull.model = folder_ / "gone.stl";
    const auto hash = models_sha256(job);
    ASSERT_FALSE(hash);
    EXPECT_NE(hash.error().message().find("gone.stl"), std::string::npos);
}

TEST(Program, IsToldBySixtyFourDigitsTheSameEachTime) {
    EXPECT_EQ(program_sha256().size(), 64u);
    EXPECT_EQ(program_sha256().find_first_not_of("0123456789abcdef"), std::string::npos);
    EXPECT_EQ(&program_sha256(), &program_sha256());
}

int raised = 0;
void count(int) {
    ++raised;
}

TEST(InterruptionOfAWrite, HoldsASignalBackUntilItEndsAndRaisesItThen) {
    raised = 0;
    std::signal(SIGHUP, count);
    {
        const Interruption interruption;
        EXPECT_FALSE(Interruption::noted());
        raise(SIGHUP);
        EXPECT_TRUE(Interruption::noted());
        EXPECT_EQ(raised, 0) << "half a file can still be taken away";
    }
    EXPECT_EQ(raised, 1);
    {
        const Interruption interruption;
        EXPECT_FALSE(Interruption::noted()) << "an earlier one is over";
    }
    EXPECT_EQ(raised, 1);
    std::signal(SIGHUP, SIG_DFL);
}

TEST(InterruptionOfAWrite, LeavesASignalIgnoredThatTheCallerIgnores) {
    // As under nohup.
    std::signal(SIGHUP, SIG_IGN);
    {
        const Interruption interruption;
        raise(SIGHUP);
        EXPECT_FALSE(Interruption::noted());
    }
    std::signal(SIGHUP, SIG_DFL);
}

}  // namespace
}  // namespace tearline::files

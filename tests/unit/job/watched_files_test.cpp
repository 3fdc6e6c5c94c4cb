#include "core/job/watched_files.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

namespace tearline::job {
namespace {

namespace fs = std::filesystem;

class WatchedFilesOf : public ::testing::Test {
protected:
    WatchedFilesOf() {
        fs::create_directory(folder_);
        write("0123456789");
        job_.hull.model = folder_ / "hull.stl";
    }
    ~WatchedFilesOf() override { fs::remove_all(folder_); }
    void write(const std::string& text) const {
        std::ofstream(folder_ / "hull.stl", std::ios::binary) << text;
    }
    const fs::path folder_ = fs::temp_directory_path() / ("watched-" + std::to_string(::getpid()));
    Job job_;
};

TEST_F(WatchedFilesOf, AreUnchangedWhereNobodyWrites) {
    const WatchedFiles files(job_);
    EXPECT_TRUE(files.unchanged());
    EXPECT_EQ(files.text(), WatchedFiles(job_).text());
}

TEST_F(WatchedFilesOf, AreToldByTheirKeyWhereCutOrReplaced) {
    const WatchedFiles files(job_);
    fs::resize_file(job_.hull.model, 5);
    ASSERT_FALSE(files.unchanged());
    EXPECT_EQ(files.unchanged().error().key, "hull.model");
    EXPECT_NE(files.text(), WatchedFiles(job_).text());

    const WatchedFiles again(job_);
    fs::rename(job_.hull.model, folder_ / "old");  // another file of that name, size and moment
    write("01234");
    fs::last_write_time(job_.hull.model, fs::last_write_time(folder_ / "old"));
    EXPECT_FALSE(again.unchanged());
}

TEST_F(WatchedFilesOf, MayGo) {
    const WatchedFiles files(job_);
    fs::remove(job_.hull.model);
    EXPECT_TRUE(files.unchanged());
}

TEST_F(WatchedFilesOf, AreScansOfTheDishToo) {
    DishScan scan;
    scan.model = folder_ / "dish.xyz";
    std::ofstream(scan.model) << "1 2 3\n";
    job_.damage.scan = scan;
    const WatchedFiles files(job_);
    std::ofstream(scan.model, std::ios::app) << "4 5 6\n";
    ASSERT_FALSE(files.unchanged());
    EXPECT_EQ(files.unchanged().error().key, "damage.scan.model");
}

TEST_F(WatchedFilesOf, AreDrawingsOfRemnantsToo) {
    Remnant remnant;
    EXPECT_TRUE(WatchedFiles(remnant).unchanged());  // its outline stands in the job file
    remnant.model = folder_ / "hull.stl";
    const WatchedFiles files(remnant);
    EXPECT_TRUE(files.unchanged());
    write("01234");
    ASSERT_FALSE(files.unchanged());
    EXPECT_EQ(files.unchanged().error().key, "remnant.model");
}

}  // namespace
}  // namespace tearline::job

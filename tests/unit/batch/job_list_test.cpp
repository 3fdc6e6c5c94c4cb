#include "core/batch/job_list.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <set>

namespace tearline::batch {
namespace {

namespace fs = std::filesystem;

class JobList : public testing::Test {
protected:
    void SetUp() override {
        room = fs::temp_directory_path() /
               ("tearline-job-list-" +
                std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
        fs::remove_all(room);
        fs::create_directories(room);
    }
    void TearDown() override { fs::remove_all(room); }

    Result<std::vector<std::string>> read(const std::string& text) const {
        std::ofstream(room / "list", std::ios::binary) << text;
        return read_job_list(room / "list");
    }

    fs::path room;
};

TEST_F(JobList, HoldsAJobALine) {
    const auto jobs = read("a.toml\n\n  # a comment\n\tboats/b c.toml \r\n./#9.toml\nlast.toml");
    ASSERT_TRUE(jobs) << jobs.error().message();
    EXPECT_EQ(*jobs,
              (std::vector<std::string>{"a.toml", "boats/b c.toml", "./#9.toml", "last.toml"}));
}

TEST_F(JobList, MayBeginWithTheMarkThatEditorsPutThere) {
    // Unicode Standard, section 23.8: U+FEFF at the beginning of a file is a signature, no text.
    const auto jobs = read("\xEF\xBB\xBF# boats\na.toml\n");
    ASSERT_TRUE(jobs) << jobs.error().message();
    EXPECT_EQ(*jobs, std::vector<std::string>{"a.toml"});
    EXPECT_EQ(*read("\xEF\xBB\xBF\xEF\xBB\xBF.toml\n"),
              std::vector<std::string>{"\xEF\xBB\xBF.toml"})
        << "a second one is part of a name";
}

TEST_F(JobList, IsRefusedWithItsLine) {
    const auto twice = read("a.toml\n#\na.toml\n");
    ASSERT_FALSE(twice);
    EXPECT_NE(twice.error().message().find("list:3: 'a.toml' stands already in line 1"),
              std::string::npos)
        << twice.error().message();
    EXPECT_NE(read("a\n\xff.toml\n").error().message().find("list:2: "), std::string::npos);
    EXPECT_FALSE(read(" \n# nothing\n"));
    EXPECT_FALSE(read_job_list(room / "none"));
    EXPECT_FALSE(read_job_list(room));
}

TEST(Slice, IsKOfN) {
    ASSERT_TRUE(read_slice("3/8"));
    EXPECT_EQ(read_slice("3/8")->k, 3);
    EXPECT_EQ(read_slice("3/8")->n, 8);
    for (const char* text : {"0/8", "9/8", "3", "3/", "/8", "a/b", "3/8/2", "-1/8", " 3/8", "3/8 ",
                             "1.5/8", "99999999999/99999999999"})
        EXPECT_FALSE(read_slice(text)) << text;
}

TEST(Slice, EveryJobIsInOneSliceByItsPlace) {
    std::vector<std::string> jobs;
    for (int i = 1; i <= 23; ++i) jobs.push_back(std::to_string(i));
    for (const int n : {1, 2, 7, 23, 30}) {
        std::vector<std::string> all;
        for (int k = 1; k <= n; ++k)
            for (const std::string& job : jobs_of_slice(jobs, Slice{k, n})) {
                EXPECT_EQ((std::stoi(job) - 1) % n, k - 1);  // as real lines are counted, from 1
                all.push_back(job);
            }
        EXPECT_EQ(std::set<std::string>(all.begin(), all.end()).size(), jobs.size());
        EXPECT_EQ(all.size(), jobs.size());
    }
    EXPECT_EQ(jobs_of_slice(jobs, {}), jobs);
}

TEST(PlanFolder, TellsAllJobsApartAndStaysInside) {
    std::set<std::string> folders;
    const std::vector<std::string> jobs{
        "a.toml",    "b/a.toml",    "b-a.toml",
        "../a.toml", "/etc/a.toml", "..",
        "a",         "./a.toml",    std::string(300, 'x') + ".toml"};
    for (const std::string& job : jobs) {
        const std::string folder = plan_folder(job);
        EXPECT_TRUE(folders.insert(folder).second) << job;
        EXPECT_TRUE(folder.starts_with("plans/"));
        EXPECT_EQ(std::count(folder.begin(), folder.end(), '/'), 2) << folder;
        EXPECT_EQ(folder.find("/.."), std::string::npos) << folder;
        EXPECT_LT(folder.size(), 130U);
    }
    // The hash: `printf a.toml | sha256sum`.
    EXPECT_EQ(plan_folder("a.toml"), "plans/d7/a-d7d42a49");
}

}  // namespace
}  // namespace tearline::batch

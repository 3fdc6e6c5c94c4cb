#include "core/files/write_page.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <iterator>

#include "core/page/page.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

/// A folder of its own for each test, taken away at the end.
class WritePage : public testing::Test {
protected:
    void SetUp() override {
        const std::string name = testing::UnitTest::GetInstance()->current_test_info()->name();
        room = fs::temp_directory_path() / ("tearline-page-" + std::to_string(getpid()) + name);
        fs::create_directories(room);
    }
    void TearDown() override { fs::remove_all(room); }

    static std::string text_of(const fs::path& path) {
        std::ifstream in(path, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    static std::string page_of(const std::string& model) {
        return page::model_page(
            {{{Vec3(0, 0, 0), Vec3(100, 0, 0), Vec3(0, 100, 0)}, {{0, 1, 2}}}, model, "mm", ""});
    }
    [[nodiscard]] std::size_t standing() const {
        return static_cast<std::size_t>(
            std::distance(fs::directory_iterator(room), fs::directory_iterator()));
    }

    fs::path room;
};

}  // namespace

TEST_F(WritePage, WritesAnewAndOverAnEarlierPage) {
    const fs::path path = room / "page.html";
    ASSERT_TRUE(write_page(path, page_of("a.stl")));
    ASSERT_TRUE(write_page(path, page_of("b.stl")));
    EXPECT_EQ(text_of(path), page_of("b.stl"));
    EXPECT_EQ(standing(), 1U);
}

TEST_F(WritePage, LeavesWhatIsNoPageOfOurs) {
    const fs::path path = room / "mine.html";
    for (const std::string& mine : {std::string("<p>mine</p>"), page_of("a.stl") + "mine"}) {
        std::ofstream(path, std::ios::binary) << mine;
        const auto written = write_page(path, page_of("a.stl"));
        ASSERT_FALSE(written);
        EXPECT_EQ(written.error().kind, ErrorKind::output_failed);
        EXPECT_EQ(text_of(path), mine);
    }
    EXPECT_EQ(standing(), 1U);
}

TEST_F(WritePage, RefusesAFolderAndAFolderThatIsNotThere) {
    EXPECT_FALSE(write_page(room, page_of("a.stl")));
    EXPECT_FALSE(check_page(room / "nowhere" / "page.html"));
    EXPECT_EQ(standing(), 0U);
}

}  // namespace tearline::files

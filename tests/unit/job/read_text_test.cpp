#include "core/job/read_text.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <thread>

#include "core/job/read_job.h"

namespace tearline::job {
namespace {

class ReadPipe : public testing::Test {
protected:
    void SetUp() override { ASSERT_EQ(mkfifo(pipe_.c_str(), 0600), 0); }
    void TearDown() override { std::filesystem::remove(pipe_); }

    const std::filesystem::path pipe_ =
        std::filesystem::temp_directory_path() / ("tearline-pipe-" + std::to_string(getpid()));
};

TEST_F(ReadPipe, OfNobodyIsRefusedAtOnce) {
    const auto began = std::chrono::steady_clock::now();
    const auto text = read_job_text(pipe_);
    ASSERT_FALSE(text);
    EXPECT_EQ(text.error().kind, ErrorKind::bad_input);
    EXPECT_NE(text.error().message().find("nobody writes into"), std::string::npos);
    EXPECT_LT(std::chrono::steady_clock::now() - began, std::chrono::seconds(5));
}

TEST_F(ReadPipe, GivesAllThatIsWrittenThoughItComesInParts) {
    std::string all;
    for (int line = 0; line < 20000; ++line) all += "# " + std::to_string(line) + "\n";
    // Open for both ends, so that a writer is there before the reader asks.
    const int held = ::open(pipe_.c_str(), O_RDWR), writing = ::open(pipe_.c_str(), O_WRONLY);
    ASSERT_EQ(write(writing, all.data(), 7), 7);
    std::thread writer([&] {
        // Goes on when the reader has taken that and waits for more.
        for (int left = 1; left != 0;) {
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
            ioctl(held, FIONREAD, &left);
        }
        close(held);
        for (std::size_t done = 7; done < all.size();)
            done += static_cast<std::size_t>(
                std::max<ssize_t>(0, write(writing, all.data() + done, all.size() - done)));
        close(writing);
    });
    const auto text = read_text(pipe_, 1u << 20u, "a job file");
    writer.join();
    ASSERT_TRUE(text) << text.error().message();
    EXPECT_EQ(*text, all);
}

TEST_F(ReadPipe, EndsAtTheMost) {
    const int held = ::open(pipe_.c_str(), O_RDWR);
    ASSERT_EQ(write(held, "1234567890", 10), 10);
    const auto text = read_text(pipe_, 4, "a job file");  // and does not wait for an end that never comes
    close(held);
    ASSERT_TRUE(text);
    EXPECT_EQ(*text, "1234");
}

}  // namespace
}  // namespace tearline::job

#include "core/job/read_text.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>

namespace tearline::job {

namespace {

constexpr int longest_silence = 10000;    // [ms] the writer may still be working the job out
constexpr std::size_t block = 1u << 16u;  // [bytes] read at once

/// A file that is closed at the end of its scope.
struct Opened {
    int number;
    ~Opened() {
        if (number >= 0) close(number);
    }
};

/// Whether something has come, or the writer has gone.
bool comes(int pipe) {
    pollfd waited{pipe, POLLIN, 0};
    int found = 0;
    do found = poll(&waited, 1, longest_silence);
    while (found < 0 && errno == EINTR);
    return found > 0;
}

}  // namespace

Result<std::string> read_text(const std::filesystem::path& file, std::size_t most,
                              std::string_view wanted) {
    const auto refused = [&](const std::string& why) {
        return bad_file(file.string(), why + "; name " + std::string(wanted));
    };
    // Opened for good, a pipe would wait for its writer.
    const Opened opened{open(file.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY)};
    struct stat found {};
    if (opened.number < 0 || fstat(opened.number, &found) != 0) return refused("cannot be opened");
    if (S_ISDIR(found.st_mode)) return refused("is a folder");
    std::string text;
    while (text.size() < most) {
        const std::size_t before = text.size(), room = std::min(block, most - before);
        text.resize(before + room);
        const ssize_t got = ::read(opened.number, text.data() + before, room);
        const int reason = errno;
        text.resize(before + static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
        if (got == 0) break;
        if (got > 0 || reason == EINTR) continue;
        if (reason != EAGAIN) return refused("cannot be read");
        if (!comes(opened.number))
            return refused("is a pipe into which nothing is written for 10 s");
    }
    if (text.empty() && S_ISFIFO(found.st_mode))
        return refused("is a pipe that nobody writes into");
    return text;
}

}  // namespace tearline::job

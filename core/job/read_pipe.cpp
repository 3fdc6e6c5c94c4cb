#include "core/job/read_pipe.h"

#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

#include <cerrno>

namespace tearline::job {

namespace {

constexpr int longest_silence = 10000;  // [ms] the writer may still be working the job out

constexpr const char* name_a_file = "name a job file";

/// A pipe that is closed at the end of its scope.
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

Result<std::string> read_pipe(const std::filesystem::path& pipe, std::size_t most) {
    // Opened for good, a pipe would wait for its writer.
    const Opened opened{open(pipe.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC)};
    if (opened.number < 0)
        return bad_file(pipe.string(), std::string("cannot be opened; ") + name_a_file);
    std::string text(most, '\0');
    std::size_t got = 0;
    while (got < most) {
        const ssize_t read = ::read(opened.number, text.data() + got, most - got);
        if (read > 0)
            got += static_cast<std::size_t>(read);
        else if (read == 0)
            break;
        else if (errno == EAGAIN && !comes(opened.number))
            return bad_file(pipe.string(), std::string("is a pipe into which nothing is written "
                                                       "for 10 s; ") +
                                               name_a_file);
        else if (errno != EAGAIN && errno != EINTR)
            return bad_file(pipe.string(), "cannot be read");
    }
    if (got == 0)
        return bad_file(pipe.string(),
                        std::string("is a pipe that nobody writes into; ") + name_a_file);
    text.resize(got);
    return text;
}

}  // namespace tearline::job

#include "core/hull/child_process.h"

#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <new>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/address_space.h"
#include "core/base/numbers.h"
#include "core/base/printable.h"
#include "core/base/side_by_side.h"
#include "core/base/this_process.h"
#include "core/hull/read_limits.h"

namespace tearline::hull {
namespace {

constexpr const char* child_name = "tearline: reads a model";
constexpr const char* copy_name = "tearline-reads";  // a copy's
constexpr int child_arguments = 6;  // name, path, format, parent, seconds, gigabytes
constexpr double gigabyte = 1e9;    // [bytes]
/// [-] of a limit: what went wrong beyond this went wrong for the limit
constexpr double nearly = 0.8;

/// What the child says: the first letter what it is, the rest words; after the line that it passed
/// comes what it hands over.
enum Answer : char { passed = 'p', refused = 'r', suspected = 's', no_memory = 'm' };

/// Through a socket, for which no limit of file size counts, and without SIGPIPE where the other
/// side has died.
void send_all(int socket, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t sent = send(socket, bytes.data(), bytes.size(), MSG_NOSIGNAL);
        if (sent < 0 && errno != EINTR) return;
        if (sent > 0) bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
}

std::string receive_all(int socket) {
    std::string bytes;
    std::vector<char> part(1 << 16);
    for (;;) {
        const ssize_t got = recv(socket, part.data(), part.size(), 0);
        if (got == 0 || (got < 0 && errno != EINTR)) return bytes;
        if (got > 0) bytes.append(part.data(), static_cast<std::size_t>(got));
    }
}

/// A line; the last one counts.
void say(Answer answer, const std::string& words = {}) {
    std::string line = std::string(1, answer) + words;
    std::replace(line.begin(), line.end(), '\n', ' ');
    send_all(STDIN_FILENO, line + "\n");
}

/// What was said last, without the line's end; "" when nothing was.
/// @param said  its whole lines are taken out of it, to the line that the child passed
std::string take_last_line(std::string& said) {
    std::string last;
    std::size_t start = 0, end = 0;
    while (!last.starts_with(passed) && (end = said.find('\n', start)) != std::string::npos) {
        last = said.substr(start, end - start);
        start = end + 1;
    }
    said.erase(0, start);
    return last;
}

void limit(__rlimit_resource resource, rlim_t most) {
    rlimit now{};
    if (getrlimit(resource, &now) != 0) return;
    const rlimit then{std::min(most, now.rlim_max), std::min(most + 1, now.rlim_max)};
    setrlimit(resource, &then);
}

/// Dies with its parent, which may have died meanwhile.
void live_no_longer_than(double parent) {
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (parent != getppid()) _exit(1);
}

/// The child's whole life.
[[noreturn]] void read_within(const ReadLimits& limits, const ModelFile& file) {
    ready_side_by_side();
    limit(RLIMIT_CORE, 0);
    limit(RLIMIT_CPU, static_cast<rlim_t>(std::ceil(limits.seconds)));
    limit(RLIMIT_AS, static_cast<rlim_t>(address_space_now() + gigabyte * limits.gigabytes));
    try {
        const auto done =
            read_for_parent(file, [](const std::string& what) { say(suspected, what); });
        if (!done) say(refused, done.error().what);
        if (done) say(passed);
        if (done) send_all(STDIN_FILENO, *done);
        _exit(0);
    } catch (const std::bad_alloc&) {
        say(no_memory);
    } catch (...) {  // what it suspected last stands there already
    }
    _exit(1);
}

/// A child that was started anew: its name says what it is to do, its standard input holds the
/// file.
[[noreturn]] void be_the_child(char** arguments) {
    live_no_longer_than(read_number(arguments[3]).value_or(0.0));
    const ModelFile file{arguments[1], receive_all(STDIN_FILENO),
                         static_cast<ModelFormat>(read_number(arguments[2]).value_or(0.0))};
    read_within({read_number(arguments[4]).value_or(1.0), read_number(arguments[5]).value_or(1.0)},
                file);
}

/// Before main: every program that reads hulls can be started as the child, tests too.
__attribute__((constructor)) void become_the_child(int argc, char** argv) {
    if (argc == child_arguments && std::strcmp(argv[0], child_name) == 0) be_the_child(argv);
}

struct ChildEnd {
    std::string said;    ///< its last line
    std::string handed;  ///< what came after that
    int status = 0;      ///< as wait gives it
    rusage used{};
};

/// A copy of this process reads: 30 ms sooner than one that first loads its libraries.
pid_t start_copy(int socket, const ModelFile& file) {
    const pid_t child = fork_copy(socket, copy_name);
    if (child == 0) read_within(read_limits(), file);
    return child;
}

/// This program started anew.
/// @return  -1, with errno, when it could not be
pid_t start_program(int socket, const ModelFile& file) {
    const std::array<std::string, child_arguments> words = {
        child_name,
        file.path.string(),
        std::to_string(static_cast<int>(file.format)),
        std::to_string(getpid()),
        shortest(read_limits().seconds),
        shortest(read_limits().gigabytes)};
    const Started started = start_anew({words.begin(), words.end()}, socket);
    errno = started.failed;
    return started.failed == 0 ? started.id : -1;
}

/// @return  nothing when no process could be started
std::optional<ChildEnd> run_child(const ModelFile& file) {
    std::array<int, 2> ends{};
    if (socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends.data()) != 0) return std::nullopt;
    const bool copy = has_one_thread();
    const pid_t child = copy ? start_copy(ends[1], file) : start_program(ends[1], file);
    const int failed = errno;
    close(ends[1]);
    std::optional<ChildEnd> end;
    if (child > 0) {
        end.emplace();
        if (!copy) send_all(ends[0], file.bytes);
        shutdown(ends[0], SHUT_WR);
        end->handed = receive_all(ends[0]);
        end->said = take_last_line(end->handed);
        while (wait4(child, &end->status, 0, &end->used) < 0 && errno == EINTR) continue;
    }
    close(ends[0]);
    errno = failed;
    return end;
}

double seconds(const timeval& time) {
    return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
}

Result<std::string> too_much_memory(const ModelFile& file) {
    return no_safe_answer("hull.model",
                          printable(file.path.string()) + ": reading it takes more than " +
                              shortest(read_limits().gigabytes) +
                              " GB of memory: the file is damaged or very large. Export the part "
                              "about the damage alone, or allow more by --read-memory");
}

}  // namespace

ReadLimits& read_limits() {
    static ReadLimits limits;
    return limits;
}

MemoryFile::MemoryFile(const std::string& bytes)
    : number_(memfd_create("tearline-model", MFD_CLOEXEC)) {
    for (std::size_t done = 0; number_ >= 0 && done < bytes.size();) {
        const ssize_t wrote = write(number_, bytes.data() + done, bytes.size() - done);
        if (wrote > 0) done += static_cast<std::size_t>(wrote);
        if (wrote < 0 && errno != EINTR) close(std::exchange(number_, -1));
    }
}

MemoryFile::~MemoryFile() {
    if (number_ >= 0) close(number_);
}

std::string MemoryFile::path() const {
    return "/proc/self/fd/" + std::to_string(number_);
}

Result<std::string> read_in_child(const ModelFile& file) {
    auto end = run_child(file);
    if (!end)
        return no_safe_answer("hull.model", file.path.string() +
                                                ": no process can be started to read it in (" +
                                                std::strerror(errno) + ")");
    const std::string& answer = end->said;
    const char kind = answer.empty() ? '\0' : answer.front();
    if (kind == passed && end->status == 0) return std::move(end->handed);
    const double most = gigabyte * read_limits().gigabytes;
    if (kind == no_memory || 1024.0 * static_cast<double>(end->used.ru_maxrss) > nearly * most)
        return too_much_memory(file);
    if (kind == refused) return bad_input("hull.model", answer.substr(1));
    if (seconds(end->used.ru_utime) + seconds(end->used.ru_stime) > nearly * read_limits().seconds)
        return model_error(file.path, "reading it takes more than " +
                                          shortest(read_limits().seconds) +
                                          " s of processor time: the file is damaged or very "
                                          "large; export it again, or allow more by "
                                          "--read-seconds");
    const std::string where = kind == suspected ? " at entity " + answer.substr(1) : "";
    return model_error(file.path, "the " + format_name(file.format) + " file is damaged" + where +
                                      "; export it again");
}

}  // namespace tearline::hull

#include "core/batch/worker_process.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

#include "core/base/numbers.h"
#include "core/base/this_process.h"
#include "core/batch/result_line.h"
#include "core/batch/worker.h"

namespace tearline::batch {

namespace {

/// [-] of a limit of memory: what went wrong beyond this went wrong for the limit
constexpr double nearly = 0.8;
constexpr const char* copy_name = "tearline-plans";
constexpr double megabyte = 1e6;  // [bytes]

/// What the parent only notes ends a worker.
constexpr std::array<int, 3> ending = {SIGINT, SIGTERM, SIGHUP};

/// A copy of this process works: it need not load its libraries first.
Started start_copy(const Task& task, int socket) {
    const pid_t child = fork_copy(socket, copy_name);
    if (child != 0) return {child, child < 0 ? errno : 0};
    setpgid(0, 0);
    for (const int signal : ending) std::signal(signal, SIG_DFL);
    _exit(work(task));
}

/// This program started anew works.
Started start_program(const Task& task, int socket) {
    posix_spawnattr_t attributes;
    posix_spawnattr_init(&attributes);
    posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGDEF);
    posix_spawnattr_setpgroup(&attributes, 0);
    sigset_t usual;
    sigemptyset(&usual);
    for (const int signal : ending) sigaddset(&usual, signal);
    posix_spawnattr_setsigdefault(&attributes, &usual);
    const Started started = start_anew(worker_words(task), socket, &attributes);
    posix_spawnattr_destroy(&attributes);
    return started;
}

/// In a group of its own: what a terminal sends at Ctrl-C reaches the parent alone, which then ends
/// its workers in order.
Started start_worker(const Task& task, int socket) {
    return has_one_thread() ? start_copy(task, socket) : start_program(task, socket);
}

/// The hashes as the worker told them before it was stopped.
files::Origin origin_of(const std::string& text, const Task& task) {
    files::Origin origin;
    origin.program = task.program;
    const auto json = nlohmann::json::parse(text, nullptr, false);
    if (!json.is_object()) return origin;
    if (json.value("job", nlohmann::json()).is_string()) origin.job = json["job"];
    if (json.value("model", nlohmann::json()).is_string()) origin.model = json["model"];
    if (json.value("options", nlohmann::json()).is_string()) origin.options = json["options"];
    return origin;
}

}  // namespace

Result<WorkerProcess> WorkerProcess::start(const Task& task) {
    std::array<int, 2> ends{};
    if (socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends.data()) != 0)
        return output_failed(task.job, std::string("no process can be started to plan it in: ") +
                                           std::strerror(errno));
    WorkerProcess worker;
    worker.socket_ = files::Descriptor(ends[0]);
    const files::Descriptor theirs(ends[1]);
    const Started started = start_worker(task, theirs.number());
    if (started.failed != 0)
        return output_failed(task.job, std::string("no process can be started to plan it in: ") +
                                           std::strerror(started.failed));
    fcntl(ends[0], F_SETFL, O_NONBLOCK);
    worker.id_ = started.id;
    worker.task_ = task;
    worker.begun_ = Clock::now();
    return worker;
}

WorkerProcess::WorkerProcess(WorkerProcess&& other) noexcept {
    *this = std::move(other);
}

WorkerProcess& WorkerProcess::operator=(WorkerProcess&& other) noexcept {
    std::swap(id_, other.id_);
    std::swap(socket_, other.socket_);
    std::swap(task_, other.task_);
    std::swap(said_, other.said_);
    std::swap(begun_, other.begun_);
    std::swap(out_of_time_, other.out_of_time_);
    return *this;
}

WorkerProcess::~WorkerProcess() {
    if (id_ <= 0) return;
    kill(id_, SIGKILL);
    while (waitpid(id_, nullptr, 0) < 0 && errno == EINTR) continue;
}

bool WorkerProcess::listen() {
    std::array<char, 65536> part;
    for (;;) {
        const ssize_t got = recv(socket_.number(), part.data(), part.size(), 0);
        if (got == 0) return true;
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return errno != EAGAIN && errno != EWOULDBLOCK;
        said_.append(part.data(), static_cast<std::size_t>(got));
    }
}

void WorkerProcess::mind_the_clock() {
    const std::chrono::duration<double> worked = Clock::now() - begun_;
    if (out_of_time_ || worked.count() < task_.limits.clock_seconds()) return;
    out_of_time_ = true;
    send(SIGKILL);
}

void WorkerProcess::send(int signal) const {
    if (id_ > 0) kill(id_, signal);
}

std::string WorkerProcess::last_said(char what) const {
    // Whole lines alone: it may have been stopped within one.
    std::string last;
    for (std::size_t start = 0;;) {
        const std::size_t end = said_.find('\n', start);
        if (end == std::string::npos) return last;
        if (said_[start] == what) last = said_.substr(start + 1, end - start - 1);
        start = end + 1;
    }
}

Outcome WorkerProcess::outcome() {
    int status = 0;
    rusage used{};
    while (wait4(id_, &status, 0, &used) < 0 && errno == EINTR) continue;
    id_ = 0;
    const std::chrono::duration<double> worked = Clock::now() - begun_;
    const double peak = 1024.0 * static_cast<double>(used.ru_maxrss);
    const auto outcome = [&](const Status& ended, const std::string& line) {
        return Outcome{ended, with_cost(line, worked.count(), peak / megabyte)};
    };
    const std::string line = last_said(says_result);
    const bool exited = WIFEXITED(status);
    if (exited && !line.empty()) return outcome({Status::Kind::exited, WEXITSTATUS(status)}, line);
    Told told;
    told.job = task_.job;
    told.origin = origin_of(last_said(says_origin), task_);
    const int signal = exited ? 0 : WTERMSIG(status);
    const JobLimits& limits = task_.limits;
    if (out_of_time_) {
        told.status.kind = Status::Kind::over_limit;
        told.message = "was stopped after " + fixed(limits.clock_seconds(), 0) + " s by the clock";
    } else if (signal == SIGXCPU) {
        told.status.kind = Status::Kind::over_limit;
        told.message = "takes more than " + shortest(limits.seconds) +
                       " s of processor time; allow more by --job-seconds";
    } else if ((exited && WEXITSTATUS(status) == exit_no_memory) ||
               (!exited && signal != SIGKILL && peak > nearly * gigabyte * limits.gigabytes)) {
        told.status.kind = Status::Kind::over_limit;
        told.message = "takes more than " + shortest(limits.gigabytes) +
                       " GB of memory; allow more by --job-memory";
    } else if (!exited) {
        told.status.kind = Status::Kind::by_signal;
        told.message = std::string("was stopped by a signal: ") + strsignal(signal);
    } else {
        told.status.exit = 1;
        told.message = "ended without a result";
    }
    return outcome(told.status, result_text(told));
}

}  // namespace tearline::batch

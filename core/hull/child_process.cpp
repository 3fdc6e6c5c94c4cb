#include "core/hull/child_process.h"

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>

namespace tearline::hull {
namespace {

constexpr unsigned longest_attempt = 60;  // [s] a reading that hangs is as good as one that falls

}  // namespace

bool survives_in_child(const std::function<void()>& attempt) {
    const pid_t child = fork();
    if (child < 0) return false;  // no process to be had: do not risk this one
    if (child == 0) {
        const rlimit no_core{0, 0};
        setrlimit(RLIMIT_CORE, &no_core);
        for (const int signal : {SIGSEGV, SIGABRT, SIGFPE, SIGBUS, SIGILL, SIGALRM}) {
            std::signal(signal, SIG_DFL);
        }
        alarm(longest_attempt);
        try {
            attempt();
            _exit(0);
        } catch (...) {
            _exit(1);
        }
    }
    int status = 0;
    while (waitpid(child, &status, 0) < 0) {
        if (errno != EINTR) return false;
    }
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

}  // namespace tearline::hull

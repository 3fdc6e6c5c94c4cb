#include "core/base/this_process.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/prctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>

namespace tearline {

bool has_one_thread() {
    constexpr nlink_t folders_own = 2;  // its name and the "." in it; each thread's has a ".."
    struct stat status {};
    return stat("/proc/self/task", &status) == 0 && status.st_nlink == folders_own + 1;
}

pid_t fork_copy(int socket, const char* name) {
    const pid_t parent = getpid();
    const pid_t child = fork();
    if (child != 0) return child;
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (parent != getppid()) _exit(1);  // it died meanwhile
    prctl(PR_SET_NAME, name);
    // Locks of folders and the other end of the socket are the parent's alone.
    const int nowhere = open("/dev/null", O_WRONLY);
    if (dup2(socket, STDIN_FILENO) < 0 || dup2(nowhere, STDOUT_FILENO) < 0 ||
        dup2(nowhere, STDERR_FILENO) < 0 || close_range(STDERR_FILENO + 1, ~0U, 0) != 0)
        _exit(1);
    return 0;
}

Started start_anew(std::vector<std::string> words, int socket,
                   const posix_spawnattr_t* attributes) {
    std::vector<char*> arguments;
    for (std::string& word : words) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t files;
    posix_spawn_file_actions_init(&files);
    posix_spawn_file_actions_adddup2(&files, socket, STDIN_FILENO);
    posix_spawn_file_actions_addopen(&files, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&files, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    Started started;
    started.failed =
        posix_spawn(&started.id, "/proc/self/exe", &files, attributes, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&files);
    return started;
}

}  // namespace tearline

#pragma once
#include <spawn.h>
#include <sys/types.h>

#include <string>
#include <vector>

/// This process once more, to do what may fall or hang: copied, or its program started anew.
namespace tearline {

/// Whether this process has one thread: only then a copy of it may do anything, since a lock that
/// another thread held would stay locked in it.
[[nodiscard]] bool has_one_thread();

/// Forks a copy that needs not load its libraries anew: it dies with this process, its standard
/// input is the socket, and nothing else that this process has open is open in it.
///
/// @pre  has_one_thread()
/// @param name  of 15 letters at most, as lists of processes show it
/// @return  as fork(): 0 in the copy
[[nodiscard]] pid_t fork_copy(int socket, const char* name);

struct Started {
    pid_t id = 0;    ///< of the process
    int failed = 0;  ///< errno, where there is none
};

/// Starts this program anew, told by its first word what it is for: its standard input is the
/// socket, and what it says goes nowhere.
[[nodiscard]] Started start_anew(std::vector<std::string> words, int socket,
                                 const posix_spawnattr_t* attributes = nullptr);

}  // namespace tearline

#pragma once
#include <sys/types.h>

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

}  // namespace tearline

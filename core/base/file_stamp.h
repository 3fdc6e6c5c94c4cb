#pragma once
#include <string>

struct stat;

namespace tearline {

/// What tells a file from what it was before or from another: its place on the disk, its size, when
/// it was written and when anything of it was changed. The second moment nobody can set.
[[nodiscard]] std::string stamp_of(const struct stat& status);

}  // namespace tearline

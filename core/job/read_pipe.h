#pragma once
#include <cstddef>
#include <filesystem>
#include <string>

#include "core/base/result.h"

namespace tearline::job {

/// What stands in a pipe up to its end, or so many bytes of it.
///
/// @error bad_input  nobody writes into it, or nothing comes for ten seconds: what waits for a
///                   pipe is never waited for
[[nodiscard]] Result<std::string> read_pipe(const std::filesystem::path& pipe, std::size_t most);

}  // namespace tearline::job

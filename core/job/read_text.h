#pragma once
#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

#include "core/base/result.h"

namespace tearline::job {

/// What stands in a file that a person names, up to its end or so many bytes of it: a device has
/// no end to trust. A pipe will do too, if somebody writes into it.
///
/// @param most    [bytes]
/// @param wanted  what to name instead of what cannot be read: "a job file"
/// @error bad_input  it cannot be read or is a folder; nobody writes into the pipe, or nothing
///                   comes for ten seconds: what waits for a pipe is never waited for
[[nodiscard]] Result<std::string> read_text(const std::filesystem::path& file, std::size_t most,
                                            std::string_view wanted);

}  // namespace tearline::job

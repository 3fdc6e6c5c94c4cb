#pragma once
#include <filesystem>
#include <string_view>

#include "core/base/result.h"

namespace tearline::files {

/// Whether a page may be written under a name: nothing stands there, or an earlier page that nobody
/// has changed.
///
/// @error output_failed  a folder or another file is in the way, or there is no folder for it
[[nodiscard]] Result<void> check_page(const std::filesystem::path& path);

/// Writes a page: the whole of it, on the disk, or nothing. It is written beside and takes its name
/// in one step; on SIGINT, SIGTERM or SIGHUP what was begun is taken away.
///
/// @error output_failed  as check_page(), or it could not be written
[[nodiscard]] Result<void> write_page(const std::filesystem::path& path, std::string_view page);

}  // namespace tearline::files

#pragma once
#include <filesystem>

#include "core/base/result.h"
#include "core/files/file_set.h"

namespace tearline::files {

/// Makes a folder hold exactly these files and their manifest: all of it or nothing.
///
/// The files are written into a sibling, which then takes the folder's name in one step. On any
/// failure, and on SIGINT, SIGTERM or SIGHUP, the folder is as it was and nothing stands beside it;
/// the signal then does what it would have done.
/// @param folder  absent, empty, or as an earlier run left it
/// @error output_failed  with the path and the reason
[[nodiscard]] Result<void> replace_folder(const std::filesystem::path& folder,
                                          const FileSet& files);

/// Whether a plan may be written to a folder, as far as can be known before there is one.
///
/// @error output_failed  a file or a foreign folder is in the way, or nothing may be written there
[[nodiscard]] Result<void> check_folder(const std::filesystem::path& folder);

}  // namespace tearline::files

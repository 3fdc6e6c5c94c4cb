#pragma once
#include <filesystem>

#include "core/base/result.h"
#include "core/files/descriptor.h"
#include "core/files/file_set.h"
#include "core/files/origin.h"

namespace tearline::files {

/// Writes files and their manifest into an open, empty folder, down to the disk.
///
/// All is reached by the folder's descriptor: where the folder has vanished or got another name,
/// nothing is made anew under its old one.
/// @param name    of the folder, for messages
/// @param origin  what they were made from, for the manifest
/// @error output_failed  with the path and the reason; a signal came
[[nodiscard]] Result<void> write_files(const Descriptor& folder, const std::filesystem::path& name,
                                       const FileSet& files,
                                       const std::optional<Origin>& origin = {});

}  // namespace tearline::files

#pragma once
#include <filesystem>
#include <string>

#include "core/base/result.h"
#include "core/files/file_set.h"

namespace tearline::files {

inline constexpr const char* manifest_name = "manifest.json";

/// The manifest of a set of files: name, size and SHA-256 of each, and whose folder it is; its last
/// line is the SHA-256 of all its bytes before that line, so that an edit to itself is seen.
[[nodiscard]] std::string manifest_json(const FileSet& files);

/// Whether a folder holds nothing but what an earlier run wrote, unchanged.
///
/// An empty folder passes. Takes no longer than reading what the manifest lists, whatever lies
/// there.
/// @error output_failed  names the first foreign, edited or missing file, in alphabetical order
[[nodiscard]] Result<void> check_ours(const std::filesystem::path& folder);

}  // namespace tearline::files

#pragma once
#include <filesystem>
#include <optional>
#include <string>

#include "core/base/result.h"
#include "core/files/file_set.h"
#include "core/files/origin.h"

namespace tearline::formats {
class JsonWriter;
}

namespace tearline::files {

inline constexpr const char* manifest_name = "manifest.json";

/// The manifest of a set of files: name, size and SHA-256 of each, and whose folder it is; its last
/// line is the SHA-256 of all its bytes before that line, so that an edit to itself is seen.
///
/// @param origin  "sha256": what the files were made from
[[nodiscard]] std::string manifest_json(const FileSet& files,
                                        const std::optional<Origin>& origin = {});

/// An Origin as a JSON object: job, model, options, program.
void write_origin(formats::JsonWriter& json, const Origin& origin);

/// What the manifest of a folder of ours says that its files were made from; nothing where it has
/// none, or is none of ours.
[[nodiscard]] std::optional<Origin> origin_of(const std::filesystem::path& folder);

/// Whether files that a manifest lists and nobody finds count against its folder.
enum class Missing { refused, passes };

struct HowChecked {
    Missing missing = Missing::refused;
    bool at_once = true;  ///< by several threads; without, none is begun, and the process can still
                          ///< be copied (base/this_process.h)
};

/// Whether a folder holds nothing but what an earlier run wrote, unchanged.
///
/// An empty folder passes. Takes no longer than reading what the manifest lists, whatever lies
/// there.
/// @error output_failed  names the first foreign, edited or missing file, in alphabetical order
[[nodiscard]] Result<void> check_ours(const std::filesystem::path& folder,
                                      const HowChecked& how = {});

}  // namespace tearline::files

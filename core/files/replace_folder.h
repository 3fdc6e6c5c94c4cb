#pragma once
#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/files/file_set.h"
#include "core/files/origin.h"

namespace tearline::files {

/// How long one run waits for another that writes beside its folder.
inline constexpr std::chrono::milliseconds default_patience{30'000};

/// Makes a folder hold exactly these files and their manifest: all of it or nothing.
///
/// The files are written into a sibling with a random name, brought to the disk, read back against
/// their manifest, and take the folder's name in one step. What bore it until then is looked at
/// once more before it is taken away: where somebody has edited it in between, it gets its name
/// back. On any failure, and on SIGINT, SIGTERM or SIGHUP before that step, the folder is as it was
/// and nothing stands beside it; after that step it is the new one, whole. The signal then does
/// what it would have done. What a run that was killed outright left beside the folder is taken
/// away by the next, unless a person has edited it.
/// @param folder    absent, empty, or as an earlier run left it
/// @param patience  how long to wait for another run
/// @param origin    what they were made from, for the manifest
/// @return  what a person has to be told though all is written; mostly ""
/// @error output_failed  with the path and the reason
[[nodiscard]] Result<std::string> replace_folder(
    const std::filesystem::path& folder, const FileSet& files,
    std::chrono::milliseconds patience = default_patience,
    const std::optional<Origin>& origin = {});

/// Takes a folder away that an earlier run wrote and nobody has edited; what is not there is done,
/// and nobody asks for files that were taken out of it.
///
/// @error output_failed  it holds a foreign or edited file, or cannot be taken away
[[nodiscard]] Result<void> remove_folder(const std::filesystem::path& folder,
                                         std::chrono::milliseconds patience = default_patience);

/// Whether a name is one that a folder was given while a run wrote beside it: ".tearline-...".
[[nodiscard]] bool is_work_name(std::string_view name);

/// What the names of working folders beside a folder begin with: its own, no other's.
[[nodiscard]] std::string work_stem(const std::filesystem::path& folder);

/// Takes away what runs that were killed outright left beside a folder, as the next
/// replace_folder() would; what a person has edited stays.
/// @return  what stays, told to a person; mostly ""
[[nodiscard]] Result<std::string> sweep_beside(
    const std::filesystem::path& folder, std::chrono::milliseconds patience = default_patience);

/// Whether a plan may be written to a folder, as far as can be known before there is one.
///
/// @error output_failed  a file or a foreign folder is in the way, or nothing may be written there
[[nodiscard]] Result<void> check_folder(const std::filesystem::path& folder);

}  // namespace tearline::files

#pragma once

#include <filesystem>
#include <string>
#include <system_error>
#include <vector>

namespace tearline::files {

/// Names of what stands in a folder, sorted. The standard library's iterators would do, but that
/// where memory ends they end the program: their step may not throw, and allocates.
/// @throws std::filesystem::filesystem_error  the folder cannot be read
std::vector<std::string> entries_of(const std::filesystem::path& folder);
/// The same, as far as it can be read.
std::vector<std::string> entries_of(const std::filesystem::path& folder, std::error_code& failed);

/// Removes a folder with all that is in it; a link goes, not what it leads to. Never throws.
std::error_code remove_tree(const std::filesystem::path& folder) noexcept;

}  // namespace tearline::files

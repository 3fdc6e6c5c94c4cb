#include "core/files/entries.h"

#include <dirent.h>
#include <ftw.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <memory>
#include <new>

namespace tearline::files {

namespace {

struct Close {
    void operator()(DIR* folder) const { closedir(folder); }
};

int remove_entry(const char* path, const struct stat*, int, FTW*) {
    return std::remove(path);
}

}  // namespace

std::vector<std::string> entries_of(const std::filesystem::path& folder, std::error_code& failed) {
    std::vector<std::string> names;
    const std::unique_ptr<DIR, Close> opened(opendir(folder.c_str()));
    errno = opened ? 0 : errno;
    while (const dirent* entry = opened ? readdir(opened.get()) : nullptr) {
        const std::string name = entry->d_name;
        if (name != "." && name != "..") names.push_back(name);
        errno = 0;
    }
    failed = {errno, std::generic_category()};
    std::sort(names.begin(), names.end());
    return names;
}

std::vector<std::string> entries_of(const std::filesystem::path& folder) {
    std::error_code failed;
    std::vector<std::string> names = entries_of(folder, failed);
    if (failed == std::errc::not_enough_memory) throw std::bad_alloc();
    if (failed) throw std::filesystem::filesystem_error("cannot be read", folder, failed);
    return names;
}

std::error_code remove_tree(const std::filesystem::path& folder) noexcept {
    constexpr int most_open = 16;
    if (nftw(folder.c_str(), remove_entry, most_open, FTW_DEPTH | FTW_PHYS) == 0) return {};
    return {errno, std::generic_category()};
}

}  // namespace tearline::files

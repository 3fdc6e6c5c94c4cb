#include "core/files/folder_lock.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <thread>

#include "core/files/interruption.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

constexpr std::chrono::milliseconds between_tries{20};
constexpr int most_tries = 20;  // a folder that others take away while it is being opened

tl::unexpected<Error> cannot_hold(const fs::path& folder, const std::string& reason) {
    return output_failed(folder.string(), "cannot be written: " + reason);
}

/// The folders up to this one that are not there, outermost first.
std::vector<fs::path> missing_folders(const fs::path& folder) {
    std::vector<fs::path> missing;
    for (fs::path at = folder; !at.empty() && !fs::exists(at); at = at.parent_path())
        missing.insert(missing.begin(), at);
    return missing;
}

/// Whether the name still leads to the folder that was opened.
bool is_still(const fs::path& folder, const Descriptor& opened) {
    struct stat by_name {
    }, by_number{};
    return stat(folder.c_str(), &by_name) == 0 && fstat(opened.number(), &by_number) == 0 &&
           by_name.st_dev == by_number.st_dev && by_name.st_ino == by_number.st_ino;
}

/// @return  whether it is held; not where the file system has no such locks
Result<bool> hold(const fs::path& folder, const Descriptor& opened,
                  std::chrono::milliseconds patience) {
    const auto end = std::chrono::steady_clock::now() + patience;
    while (flock(opened.number(), LOCK_EX | LOCK_NB) != 0) {
        if (errno != EWOULDBLOCK && errno != EINTR) return false;
        if (Interruption::noted()) return cannot_hold(folder, "interrupted");
        if (std::chrono::steady_clock::now() >= end)
            return cannot_hold(folder,
                               "another run is writing there; wait until it is done and try "
                               "again, or write into another folder");
        std::this_thread::sleep_for(between_tries);
    }
    return true;
}

void sync_folder(const fs::path& folder) {
    const Descriptor opened(open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (opened.is_open()) fsync(opened.number());
}

}  // namespace

Result<FolderLock> FolderLock::of(const fs::path& folder, std::chrono::milliseconds patience) {
    FolderLock lock;
    // Another run that made the folder for itself and failed takes it away: then once more.
    for (int tries = 0; tries < most_tries; ++tries) {
        for (const fs::path& missing : missing_folders(folder)) {
            std::error_code failed;
            if (fs::create_directory(missing, failed)) lock.made_.push_back(missing);
            if (failed && failed != std::errc::no_such_file_or_directory)
                return cannot_hold(missing, failed.message());
        }
        lock.folder_ = Descriptor(open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
        if (!lock.folder_.is_open()) {
            if (errno == ENOENT) continue;
            return cannot_hold(folder, std::strerror(errno));
        }
        const auto held = hold(folder, lock.folder_, patience);
        if (!held) return tl::unexpected(held.error());
        lock.held_ = *held;
        if (is_still(folder, lock.folder_)) return lock;
    }
    return cannot_hold(folder, "it is taken away again and again");
}

FolderLock::~FolderLock() {
    // Only what is empty: another run may have put its plan into a folder that this one made.
    for (auto made = made_.rbegin(); made != made_.rend(); ++made) rmdir(made->c_str());
}

void FolderLock::sync() const {
    fsync(folder_.number());
    for (const fs::path& made : made_) sync_folder(made.parent_path());
}

}  // namespace tearline::files

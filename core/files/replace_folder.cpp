#include "core/files/replace_folder.h"

#include <fcntl.h>
#include <sys/random.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <system_error>

#include "core/base/sha256.h"
#include "core/files/cannot_write.h"
#include "core/files/descriptor.h"
#include "core/files/entries.h"
#include "core/files/folder_lock.h"
#include "core/files/interruption.h"
#include "core/files/manifest.h"
#include "core/files/write_files.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

constexpr const char* work_prefix = ".tearline-";

tl::unexpected<Error> another_run(const fs::path& folder) {
    return output_failed(folder.string(),
                         "another run has written there in the meantime; wait until it is done "
                         "and try again, or write into another folder");
}

/// `out/` and `out` are the same folder; a link is followed, so that the link itself stays.
fs::path real_folder(const fs::path& folder) {
    fs::path path = fs::weakly_canonical(fs::absolute(folder));
    return path.has_filename() ? path : path.parent_path();
}

bool is_there(const fs::path& folder) {
    return fs::exists(fs::symlink_status(folder));
}

/// Which folder it is that has the name now.
struct Identity {
    dev_t device = 0;
    ino_t inode = 0;
    bool operator==(const Identity&) const = default;
};
Identity identity_of(const fs::path& folder) {
    struct stat status {};
    if (lstat(folder.c_str(), &status) != 0) return {};
    return {status.st_dev, status.st_ino};
}
Identity identity_of(const Descriptor& folder) {
    struct stat status {};
    if (fstat(folder.number(), &status) != 0) return {};
    return {status.st_dev, status.st_ino};
}

/// A folder whose name another can take is no mount point, and its owner has not locked it.
Result<void> check_can_be_replaced(const fs::path& folder) {
    if (!is_there(folder)) return {};
    if (!fs::is_directory(folder)) return cannot_write(folder, "a file of that name is in the way");
    struct statx status {};
    if (statx(AT_FDCWD, folder.c_str(), 0, STATX_MODE, &status) != 0)
        return cannot_write(folder, errno);
    if ((status.stx_attributes & STATX_ATTR_MOUNT_ROOT) != 0)
        return cannot_write(folder,
                            "a disk or share is mounted there, and a plan is put in place by its "
                            "folder's name; choose a folder inside it");
    // Who may do everything is not stopped by the mode, but it says what the owner wants.
    if ((status.stx_mode & 0222) == 0 || access(folder.c_str(), W_OK | X_OK) != 0)
        return cannot_write(folder,
                            "the folder is read-only; choose another, or allow writing to it");
    return {};
}

/// check_ours(), files that vanish while they are looked at included. A folder that was swapped
/// while it was looked at is another run's finished plan.
Result<void> checked(const fs::path& folder, const HowChecked& how = {}) {
    const Identity before = identity_of(folder);
    Result<void> ours;
    try {
        ours = check_ours(folder, how);
    } catch (const fs::filesystem_error& error) {
        ours = cannot_write(folder, error.code().message());
    }
    if (!ours && identity_of(folder) != before) return another_run(folder);
    return ours;
}

/// Swaps two folders in one step where the file system can, else by three renames with a way back.
std::error_code swap_folders(const fs::path& fresh, const fs::path& old) {
    if (renameat2(AT_FDCWD, fresh.c_str(), AT_FDCWD, old.c_str(), RENAME_EXCHANGE) == 0) return {};
    if (errno != EINVAL && errno != ENOSYS) return {errno, std::system_category()};
    std::error_code failed, ignored;
    fs::path aside = fresh;
    aside.replace_extension(".old");
    fs::rename(old, aside, failed);
    if (failed) return failed;
    fs::rename(fresh, old, failed);
    if (failed) {
        fs::rename(aside, old, ignored);
        return failed;
    }
    fs::rename(aside, fresh, failed);
    return failed;
}

/// Takes a folder away, its manifest first: what is half taken away is nobody's plan any more.
std::error_code take_away(const fs::path& folder) noexcept {
    const Descriptor opened(open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC));
    if (opened.is_open()) unlinkat(opened.number(), manifest_name, 0);
    return remove_tree(folder);
}

/// Where a plan is written before it takes its folder's name; taken away with all that is in it.
class WorkFolder {
public:
    /// @error output_failed  it cannot be made
    static Result<WorkFolder> beside(const fs::path& folder) {
        std::uint64_t random = 0;
        if (getrandom(&random, sizeof random, 0) != sizeof random)
            return cannot_write(folder, errno);
        std::array<char, 24> digits{};
        std::snprintf(digits.data(), digits.size(), "%016jx", std::uintmax_t{random});
        WorkFolder work;
        const fs::path path = folder.parent_path() / (work_stem(folder) + digits.data() + ".new");
        if (mkdir(path.c_str(), 0777) != 0) return cannot_write(folder, errno);
        work.path_ = path;
        work.opened_ =
            Descriptor(open(path.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC));
        if (!work.opened_.is_open()) return cannot_write(folder, errno);
        return work;
    }
    WorkFolder(WorkFolder&& other) noexcept
        : path_(std::exchange(other.path_, {})), opened_(std::move(other.opened_)) {}
    WorkFolder& operator=(WorkFolder&&) = delete;
    ~WorkFolder() {
        if (!path_.empty()) take_away(path_);
    }
    [[nodiscard]] const fs::path& path() const { return path_; }
    [[nodiscard]] const Descriptor& opened() const { return opened_; }
    void keep() { path_.clear(); }

private:
    WorkFolder() = default;
    fs::path path_;
    Descriptor opened_;
};

/// Takes away what a run that was killed outright left beside the folder. A whole plan there that
/// a person has edited stays, and one that may be the only copy.
/// @return  what stays though it is in nobody's use, told to a person
std::string clear_leavings(const fs::path& folder) {
    const std::string stem = work_stem(folder);
    std::error_code ignored;
    std::string told;
    for (const std::string& name : entries_of(folder.parent_path(), ignored)) {
        if (!name.starts_with(stem)) continue;
        const fs::path entry = folder.parent_path() / name;
        const bool half_written = !is_there(entry / manifest_name);
        const bool only_copy = entry.extension() == ".old" && !is_there(folder);
        if (only_copy && !half_written) continue;
        if ((half_written || checked(entry)) && !take_away(entry)) continue;
        told += "beside it stands " + entry.string() +
                ", left by a run that was stopped; take out of it what is yours and remove it. ";
    }
    return told;
}

/// Whether what was written is what stands on the disk, and under its name.
Result<void> check_written(const WorkFolder& work, const fs::path& folder) {
    if (identity_of(work.path()) != identity_of(work.opened()) ||
        !is_there(work.path() / manifest_name))
        return another_run(folder);
    if (const auto whole = checked(work.path()); !whole)
        return cannot_write(folder, "what was written did not arrive on the disk as it was (" +
                                        whole.error().what + ")");
    return {};
}

/// Gives the finished plan its name.
/// @return  what a person has to be told though the plan is in place
Result<std::string> put_in_place(WorkFolder& work, const fs::path& folder) {
    if (auto free = check_can_be_replaced(folder); !free) return tl::unexpected(free.error());
    const bool exists = is_there(folder);
    if (exists) {
        if (auto ours = checked(folder); !ours) return tl::unexpected(ours.error());
        std::error_code ignored;
        fs::permissions(work.path(), fs::status(folder).permissions(), ignored);
    }
    // Takes the place of an empty folder and of none; of a folder into which somebody puts a file
    // at this moment it does not.
    if (!exists || !is_there(folder / manifest_name)) {
        if (std::rename(work.path().c_str(), folder.c_str()) == 0) {
            work.keep();
            return std::string();
        }
        if (errno != ENOTEMPTY && errno != EEXIST) return cannot_write(folder, errno);
        const auto ours = checked(folder);
        return ours ? another_run(folder) : tl::unexpected(ours.error());
    }
    if (const auto failed = swap_folders(work.path(), folder))
        return cannot_write(folder, failed.message());
    // The old plan lies in the working folder now. Between the first look and the swap somebody
    // may have edited it: this second look is at what no longer has its name.
    if (const auto still_ours = checked(work.path()); !still_ours) {
        if (const auto failed = swap_folders(work.path(), folder)) {
            const std::string kept = work.path().string();
            work.keep();
            return "the earlier plan was edited while this one was put in its place; it is kept "
                   "as " +
                   kept + " (" + failed.message() + ")";
        }
        return output_failed(folder.string(), still_ours.error().what);
    }
    const fs::path old = work.path();
    work.keep();
    if (const auto failed = take_away(old))
        return "the earlier plan could not be taken away and still stands in " + old.string() +
               " (" + failed.message() + "); remove it by hand";
    return std::string();
}

Result<std::string> replace(const fs::path& folder, const FileSet& files,
                            std::chrono::milliseconds patience,
                            const std::optional<Origin>& origin) {
    if (auto free = check_can_be_replaced(folder); !free) return tl::unexpected(free.error());
    const auto lock = FolderLock::of(folder.parent_path(), patience);
    if (!lock) return tl::unexpected(lock.error());
    // Where nothing can be locked, what looks left over may be another run's work.
    const std::string left = lock->is_held() ? clear_leavings(folder) : std::string();
    auto work = WorkFolder::beside(folder);
    if (!work) return tl::unexpected(work.error());
    if (auto written = write_files(work->opened(), folder, files, origin); !written)
        return tl::unexpected(identity_of(work->path()) == identity_of(work->opened())
                                  ? written.error()
                                  : another_run(folder).value());
    if (auto whole = check_written(*work, folder); !whole) return tl::unexpected(whole.error());
    auto told = put_in_place(*work, folder);
    if (!told) return told;
    lock->sync();
    return left + *told;
}

}  // namespace

Result<std::string> replace_folder(const fs::path& folder, const FileSet& files,
                                   std::chrono::milliseconds patience,
                                   const std::optional<Origin>& origin) {
    if (folder.empty()) return output_failed("-o: an empty name is no folder");
    const Interruption interruption;
    try {
        return replace(real_folder(folder), files, patience, origin);
    } catch (const fs::filesystem_error& error) {
        const fs::path path = error.path1().empty() ? folder : error.path1();
        return cannot_write(path, error.code().message());
    }
}

Result<void> remove_folder(const fs::path& folder, std::chrono::milliseconds patience) {
    try {
        const fs::path real = real_folder(folder);
        if (!is_there(real)) return {};
        if (auto free = check_can_be_replaced(real); !free) return free;
        const auto lock = FolderLock::of(real.parent_path(), patience);
        if (!lock) return tl::unexpected(lock.error());
        if (auto ours = checked(real, {.missing = Missing::passes}); !ours) return ours;
        if (const auto failed = take_away(real)) return cannot_write(folder, failed.message());
        return {};
    } catch (const fs::filesystem_error& error) {
        return cannot_write(folder, error.code().message());
    }
}

bool is_work_name(std::string_view name) {
    return name.starts_with(work_prefix);
}

std::string work_stem(const fs::path& folder) {
    constexpr std::size_t digits = 12;  // a name of its own length could grow too long
    return work_prefix + sha256_hex(folder.filename().string()).substr(0, digits) + "-";
}

Result<std::string> sweep_beside(const fs::path& folder, std::chrono::milliseconds patience) {
    try {
        const fs::path real = real_folder(folder);
        const auto lock = FolderLock::of(real.parent_path(), patience);
        if (!lock) return tl::unexpected(lock.error());
        return lock->is_held() ? clear_leavings(real) : std::string();
    } catch (const fs::filesystem_error& error) {
        return cannot_write(folder, error.code().message());
    }
}

Result<void> check_folder(const fs::path& folder) {
    if (folder.empty()) return output_failed("-o: an empty name is no folder");
    try {
        const fs::path real = real_folder(folder);
        if (auto free = check_can_be_replaced(real); !free) return free;
        // By this thread alone: a model is then read by a copy of the process, which a process with
        // threads would have to start anew, and load its libraries again.
        if (is_there(real))
            if (auto ours = checked(real, {.at_once = false}); !ours) return ours;
        // The sibling that takes the folder's name is made in the parent.
        fs::path parent = real.parent_path();
        while (parent.has_relative_path() && !is_there(parent)) parent = parent.parent_path();
        if (!fs::is_directory(parent))
            return cannot_write(folder, parent.string() + " is not a folder");
        if (access(parent.c_str(), W_OK | X_OK) != 0) return cannot_write(folder, errno);
        return {};
    } catch (const fs::filesystem_error& error) {
        return cannot_write(folder, error.code().message());
    }
}

}  // namespace tearline::files

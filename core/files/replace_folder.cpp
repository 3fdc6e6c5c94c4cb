#include "core/files/replace_folder.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <system_error>

#include "core/base/numbers.h"
#include "core/files/interruption.h"
#include "core/files/manifest.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

tl::unexpected<Error> cannot_write(const fs::path& path, const std::string& reason) {
    return output_failed(path.string(), "cannot be written: " + reason);
}

tl::unexpected<Error> another_run(const fs::path& folder) {
    return output_failed(folder.string(),
                         "another run has written there in the meantime; wait until it is done "
                         "and try again, or write into another folder");
}

/// Which folder it is that has the name now. An inode alone may come again after its folder is
/// gone.
struct Identity {
    ino_t inode = 0;
    time_t seconds = 0;
    long nanoseconds = 0;
    bool operator==(const Identity&) const = default;
};
Identity identity_of(const fs::path& folder) {
    struct stat status {};
    if (stat(folder.c_str(), &status) != 0) return {};
    return {status.st_ino, status.st_ctim.tv_sec, status.st_ctim.tv_nsec};
}

/// check_ours(), files that vanish while they are looked at included.
Result<void> checked(const fs::path& folder) {
    try {
        return check_ours(folder);
    } catch (const fs::filesystem_error& error) {
        return cannot_write(folder, error.code().message());
    }
}

/// Whether the folder holds an earlier plan or nothing. A finished plan of another run is one too;
/// a folder that was swapped while it was looked at is neither.
Result<void> check_still_ours(const fs::path& folder, const Identity& before) {
    auto ours = checked(folder);
    if (!ours && identity_of(folder) != before) return another_run(folder);
    return ours;
}

/// Takes a path away when it goes out of scope, unless told to keep it.
class Scratch {
public:
    explicit Scratch(fs::path path) : path_(std::move(path)) {}
    ~Scratch() {
        std::error_code ignored;
        if (!path_.empty()) fs::remove_all(path_, ignored);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    void keep() { path_.clear(); }

private:
    fs::path path_;
};

/// The highest folder above `folder` that does not exist yet, or nothing.
fs::path first_missing_parent(const fs::path& folder) {
    fs::path missing;
    for (fs::path parent = folder.parent_path(); !parent.empty() && !fs::exists(parent);
         parent = parent.parent_path())
        missing = parent;
    return missing;
}

Result<void> write_file(const fs::path& path, const std::string& bytes) {
    std::error_code failed;
    fs::create_directories(path.parent_path(), failed);
    if (failed) return cannot_write(path.parent_path(), failed.message());
    errno = 0;
    std::ofstream out(path, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) return cannot_write(path, errno != 0 ? std::strerror(errno) : "write failed");
    return {};
}

Result<void> write_all(const fs::path& folder, const FileSet& files) {
    const OutputFile manifest{manifest_name, manifest_json(files)};
    for (std::size_t i = 0; i <= files.size(); ++i) {
        const OutputFile& file = i < files.size() ? files[i] : manifest;
        if (Interruption::noted()) return cannot_write(folder, "interrupted");
        if (auto written = write_file(folder / file.name, file.bytes); !written) return written;
    }
    return {};
}

/// Swaps two folders in one step where the file system can, else by two renames with a way back.
std::error_code swap_folders(const fs::path& fresh, const fs::path& old, const fs::path& aside) {
    if (renameat2(AT_FDCWD, fresh.c_str(), AT_FDCWD, old.c_str(), RENAME_EXCHANGE) == 0) {
        return {};
    }
    std::error_code failed;
    fs::rename(old, aside, failed);
    if (failed) return failed;
    fs::rename(fresh, old, failed);
    if (failed) {
        std::error_code ignored;
        fs::rename(aside, old, ignored);
        return failed;
    }
    fs::rename(aside, fresh, failed);
    return failed;
}

/// `out/` and `out` are the same folder; a link is followed, so that the link itself stays.
fs::path real_folder(const fs::path& folder) {
    fs::path path = fs::weakly_canonical(fs::absolute(folder));
    return path.has_filename() ? path : path.parent_path();
}

bool is_there(const fs::path& folder) {
    return fs::exists(fs::symlink_status(folder));
}

Result<void> check_no_file(const fs::path& folder) {
    if (is_there(folder) && !fs::is_directory(folder))
        return cannot_write(folder, "a file of that name is in the way");
    return {};
}

/// Takes away what a run that was killed outright left beside the folder: ".NAME.PID.new" of a
/// process that is no more. ".old" may be the user's only copy and stays.
void clear_leavings(const fs::path& folder) {
    const std::string stem = "." + folder.filename().string() + ".";
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(folder.parent_path(), ignored)) {
        const std::string name = entry.path().filename().string();
        if (!name.starts_with(stem) || !name.ends_with(".new")) continue;
        const auto pid = read_number(name.substr(stem.size(), name.size() - stem.size() - 4));
        if (!pid || *pid < 1.0 || kill(static_cast<pid_t>(*pid), 0) == 0 || errno != ESRCH)
            continue;
        fs::remove_all(entry.path(), ignored);
    }
}

Result<void> replace(const fs::path& folder, const FileSet& files) {
    std::error_code failed;
    const bool exists = is_there(folder);
    const Identity before = identity_of(folder);
    if (auto free = check_no_file(folder); !free) return free;
    clear_leavings(folder);
    const fs::path made = first_missing_parent(folder);
    Scratch parents(made);
    fs::create_directories(folder.parent_path(), failed);
    if (failed) return cannot_write(folder.parent_path(), failed.message());

    const std::string stem = "." + folder.filename().string() + "." + std::to_string(getpid());
    const fs::path fresh = folder.parent_path() / (stem + ".new");
    const fs::path aside = folder.parent_path() / (stem + ".old");
    if (!fs::create_directory(fresh, failed))
        return cannot_write(folder, failed ? failed.message() : "a temporary folder is in the way");
    Scratch scratch(fresh);
    if (auto written = write_all(fresh, files); !written) return written;
    if (exists) {
        if (auto ours = check_still_ours(folder, before); !ours) return ours;
        fs::permissions(fresh, fs::status(folder).permissions(), failed);
        if (!failed) failed = swap_folders(fresh, folder, aside);
    } else {
        fs::rename(fresh, folder, failed);
        if (failed && is_there(folder)) return another_run(folder);
    }
    if (failed) return cannot_write(folder, failed.message());
    parents.keep();
    return {};
}

}  // namespace

Result<void> replace_folder(const fs::path& folder, const FileSet& files) {
    if (folder.empty()) return output_failed("-o: an empty name is no folder");
    const Interruption interruption;
    try {
        return replace(real_folder(folder), files);
    } catch (const fs::filesystem_error& error) {
        const fs::path path = error.path1().empty() ? folder : error.path1();
        return cannot_write(path, error.code().message());
    }
}

Result<void> check_folder(const fs::path& folder) {
    if (folder.empty()) return output_failed("-o: an empty name is no folder");
    try {
        const fs::path real = real_folder(folder);
        if (auto free = check_no_file(real); !free) return free;
        if (is_there(real))
            if (auto ours = check_still_ours(real, identity_of(real)); !ours) return ours;
        // The sibling that takes the folder's name is made in the parent.
        const fs::path made = first_missing_parent(real);
        const fs::path parent = made.empty() ? real.parent_path() : made.parent_path();
        if (!fs::is_directory(parent))
            return cannot_write(folder, parent.string() + " is not a folder");
        if (access(parent.c_str(), W_OK | X_OK) != 0)
            return cannot_write(folder, std::strerror(errno));
        return {};
    } catch (const fs::filesystem_error& error) {
        return cannot_write(folder, error.code().message());
    }
}

}  // namespace tearline::files

#include "core/files/write_files.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstring>
#include <set>
#include <string>
#include <thread>
#include <vector>

#include "core/files/cannot_write.h"
#include "core/files/interruption.h"
#include "core/files/manifest.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t most_at_once = 4;

class FolderWriter {
public:
    FolderWriter(const Descriptor& folder, const fs::path& name) : folder_(folder), name_(name) {}

    Result<void> write(const OutputFile& file) {
        if (Interruption::noted()) return output_failed(name_.string(), "interrupted");
        if (auto made = make_folders_of(file.name); !made) return made;
        const Descriptor out(openat(folder_.number(), file.name.c_str(),
                                    O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666));
        if (!out.is_open()) return cannot_write(name_ / file.name, errno);
        for (std::size_t done = 0; done < file.bytes.size();) {
            const ssize_t wrote =
                ::write(out.number(), file.bytes.data() + done, file.bytes.size() - done);
            if (wrote < 0 && errno != EINTR) return cannot_write(name_ / file.name, errno);
            if (wrote > 0) done += static_cast<std::size_t>(wrote);
        }
        written_.insert(file.name);
        return {};
    }

    /// Files first, then the folders that name them, this one last.
    Result<void> sync() {
        if (auto synced = sync_all(written_); !synced) return synced;
        if (auto synced = sync_all(folders_); !synced) return synced;
        if (!is_synced(folder_)) return cannot_write(name_, errno);
        return {};
    }

private:
    /// Some file systems know no such thing; what went wrong with the disk is told.
    static bool is_synced(const Descriptor& opened) {
        return fsync(opened.number()) == 0 || errno == EINVAL || errno == ENOTSUP;
    }

    /// Several at once: the disk takes them together, in a third of the time of one by one.
    Result<void> sync_all(const std::set<std::string>& names) {
        const std::vector<std::string> all(names.begin(), names.end());
        std::vector<int> reasons(all.size(), 0);
        std::atomic<std::size_t> next = 0;
        const auto work = [&] {
            for (std::size_t i = next++; i < all.size(); i = next++) {
                const Descriptor opened(
                    openat(folder_.number(), all[i].c_str(), O_RDONLY | O_NOFOLLOW | O_CLOEXEC));
                if (!opened.is_open() || !is_synced(opened)) reasons[i] = errno;
            }
        };
        {
            std::vector<std::jthread> others(std::min(all.size(), most_at_once));
            for (std::jthread& other : others) other = std::jthread(work);
        }
        const auto failed = std::find_if(reasons.begin(), reasons.end(), [](int r) { return r; });
        if (failed == reasons.end()) return {};
        return cannot_write(name_ / all[static_cast<std::size_t>(failed - reasons.begin())],
                            *failed);
    }

    Result<void> make_folders_of(const std::string& file) {
        for (std::size_t end = file.find('/'); end != std::string::npos;
             end = file.find('/', end + 1)) {
            const std::string name = file.substr(0, end);
            if (!folders_.insert(name).second) continue;
            if (mkdirat(folder_.number(), name.c_str(), 0777) != 0)
                return cannot_write(name_ / name, errno);
        }
        return {};
    }

    const Descriptor& folder_;
    const fs::path& name_;
    std::set<std::string> written_, folders_;
};

}  // namespace

Result<void> write_files(const Descriptor& folder, const fs::path& name, const FileSet& files,
                         const std::optional<Origin>& origin) {
    FolderWriter writer(folder, name);
    for (const OutputFile& file : files)
        if (auto written = writer.write(file); !written) return written;
    // Last: a folder without one is a half-written one.
    if (auto written = writer.write({manifest_name, manifest_json(files, origin)}); !written)
        return written;
    return writer.sync();
}

}  // namespace tearline::files

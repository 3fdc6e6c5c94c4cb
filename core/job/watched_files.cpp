#include "core/job/watched_files.h"

#include <sys/stat.h>

#include "core/base/file_stamp.h"
#include "core/base/printable.h"

namespace tearline::job {

namespace {

/// "" of a file that is not there.
std::string stamp_at(const std::filesystem::path& path) {
    struct stat status {};
    return stat(path.c_str(), &status) == 0 ? stamp_of(status) : std::string();
}

}  // namespace

WatchedFiles::WatchedFiles(const Job& job) {
    if (!job.hull.by_hand()) watch("hull.model", job.hull.model);
    if (job.damage.scan) watch("damage.scan.model", job.damage.scan->model);
    for (const DishScan& scan : job.damage.scans_after)
        watch("damage.scan_after.model", scan.model);
}

WatchedFiles::WatchedFiles(const Remnant& remnant) {
    if (!remnant.model.empty()) watch("remnant.model", remnant.model);
}

void WatchedFiles::watch(const char* key, const std::filesystem::path& path) {
    files_.push_back({key, path, stamp_at(path)});
}

Result<void> WatchedFiles::unchanged() const {
    for (const File& file : files_)
        if (const std::string now = stamp_at(file.path); !now.empty() && now != file.stamp)
            return bad_input(file.key, printable(file.path.string()) +
                                           ": was changed while this was worked out, which may be "
                                           "of half a file; run again once it is written");
    return {};
}

std::string WatchedFiles::text() const {
    std::string text;
    for (const File& file : files_) text += file.path.string() + '\n' + file.stamp + '\n';
    return text;
}

}  // namespace tearline::job

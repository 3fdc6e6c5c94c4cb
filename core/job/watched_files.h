#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/job/boat_job.h"
#include "core/job/in_file.h"
#include "core/job/job.h"

namespace tearline::job {

/// The files that a job is planned from, its model and its scans, or a remnant is outlined by, as
/// they were when looked at: a plan of a file that somebody was writing meanwhile may be of half a
/// hull.
class WatchedFiles {
public:
    explicit WatchedFiles(const Job& job);
    /// The drawing of a remnant's outline, where it has one.
    explicit WatchedFiles(const Remnant& remnant);

    /// @error bad_input  one of them was written, cut or replaced since; one that is gone meanwhile
    ///                   was read whole or not at all
    [[nodiscard]] Result<void> unchanged() const;

    /// What they were told apart by: another text, another file.
    [[nodiscard]] std::string text() const;

private:
    struct File {
        std::string key;  ///< of the job file
        std::filesystem::path path;
        std::string stamp;
    };
    void watch(const char* key, const std::filesystem::path& path);

    std::vector<File> files_;
};

/// The answer of some work on a job, unless a file that it was worked out from changed meanwhile:
/// a refusal too may then be of what nobody has any more.
template <class T>
Result<T> of_unchanged(const Job& job, const WatchedFiles& files, Result<T> answer) {
    if (auto same = files.unchanged(); !same) return tl::unexpected(in_file(job, same.error()));
    return answer;
}

}  // namespace tearline::job

#pragma once
#include <optional>
#include <string>

#include "core/base/result.h"
#include "core/ground/job_hull.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/job/watched_files.h"

namespace tearline::serve {

/// A job with its hull.
struct JobOnHull {
    job::Job job;  ///< of a scan, in true mm (ground::JobHull)
    const hull::Hull* hull = nullptr;
    job::WatchedFiles files;  ///< as they were before the hull was read or taken as kept
};

/// The hull of the last job, read once and kept while its files and options stay the same.
class KeptHull {
public:
    /// @error  as ground::read_job_hull()
    [[nodiscard]] Result<JobOnHull> of(const job::Job& job);

    /// Names what the hull was read from and how; another name, another hull.
    [[nodiscard]] const std::string& name() const { return name_; }

    /// The hull of that name; none where another is kept by now.
    [[nodiscard]] const hull::Hull* named(const std::string& name) const {
        return kept_ && name == name_ ? &kept_->hull : nullptr;
    }

private:
    std::optional<ground::JobHull> kept_;
    std::string name_;
};

}  // namespace tearline::serve

#include "core/serve/kept_hull.h"

#include <nlohmann/json.hpp>
#include <utility>

#include "core/job/in_file.h"

namespace tearline::serve {

namespace {

/// Whether the hull hangs on more of a job than its model: figures measured by hand, scans.
bool all_counts(const job::Job& job) {
    return job.hull.by_hand() || job.hull.scan || job.damage.scanned(job.hull.scan);
}

std::string name_of(const job::Job& job, const job::WatchedFiles& files) {
    const auto list = [](const Vec3& p) { return nlohmann::json::array({p.x(), p.y(), p.z()}); };
    return files.text() +
           nlohmann::json::array({job.hull.unit.value_or(""), list(job.hull.bow), list(job.hull.up),
                                  job.hull.outward, job.hull.mirror.value_or(false),
                                  job.hull.mirror.has_value(), static_cast<int>(job.damage.side),
                                  static_cast<int>(job.hull.surface),
                                  all_counts(job) ? job.effective_json : std::string()})
               .dump();
}

}  // namespace

Result<JobOnHull> KeptHull::of(const job::Job& job) {
    job::WatchedFiles files(job);
    std::string name = name_of(job, files);
    if (!kept_ || name != name_) {
        kept_.reset();
        auto read = ground::read_job_hull(job);
        if (!read) return tl::unexpected(job::in_file(job, read.error()));
        kept_ = std::move(*read);
        name_ = std::move(name);
    }
    JobOnHull out{job.hull.scan ? kept_->job : job, &kept_->hull, std::move(files)};
    out.job.file = job.file;
    return out;
}

}  // namespace tearline::serve

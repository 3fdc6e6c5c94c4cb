#include "core/serve/kept_hull.h"

#include <filesystem>
#include <nlohmann/json.hpp>
#include <utility>

#include "core/hull/read_hull.h"
#include "core/job/in_file.h"

namespace tearline::serve {

namespace {

std::string name_of(const job::Job& job) {
    std::error_code ignored;
    const auto changed = std::filesystem::last_write_time(job.hull.model, ignored);
    const auto list = [](const Vec3& p) { return nlohmann::json::array({p.x(), p.y(), p.z()}); };
    return nlohmann::json::array({job.hull.model.string(), changed.time_since_epoch().count(),
                                  job.hull.unit.value_or(""), list(job.hull.bow), list(job.hull.up),
                                  job.hull.outward, job.hull.mirror.value_or(false),
                                  job.hull.mirror.has_value(), static_cast<int>(job.damage.side),
                                  static_cast<int>(job.hull.surface),
                                  job.hull.by_hand() ? job.effective_json : std::string()})
        .dump();
}

}  // namespace

Result<const hull::Hull*> KeptHull::of(const job::Job& job) {
    std::string name = name_of(job);
    if (!hull_ || name != name_) {
        hull_.reset();
        auto read = hull::read_hull(job.hull, job.damage.side);
        if (!read) return tl::unexpected(job::in_file(job, read.error()));
        hull_ = std::move(*read);
        name_ = std::move(name);
    }
    return &*hull_;
}

}  // namespace tearline::serve

#pragma once
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "core/job/read_job.h"

namespace tearline::fuzz {

/// Feeds bytes to the job reader; false when what it answers breaks its contract.
inline bool job_reader_holds(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const auto job = job::parse_job(text, "fuzz.toml");
    // A refusal names the file; a job that was read has what every later stage relies on.
    if (!job)
        return job.error().kind == ErrorKind::bad_input &&
               job.error().message().rfind("fuzz.toml:", 0) == 0 &&
               job.error().message().size() < 2000;
    return job->damage.depth > 0.0 && job->scarf.ratio > 0.0 && !job->effective_json.empty() &&
           (job->damage.centre.has_value() || job->damage.outline.size() >= 3) &&
           (job->layup.stack.empty() != job->layup.fill.empty());
}

}  // namespace tearline::fuzz

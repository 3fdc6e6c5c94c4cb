#pragma once
#include "core/base/result.h"
#include "core/job/job.h"

namespace tearline::job {

/// A refusal with the job's file, unless it names another, and the line of its key, or of its table
/// where the key has only its default.
[[nodiscard]] Error in_file(const Job& job, Error error);

}  // namespace tearline::job

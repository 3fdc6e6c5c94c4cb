#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"

namespace tearline::ground {

/// A job and the hull that it is about.
struct JobHull {
    job::Job job;  ///< as asked; of a scan, its places in true mm and on the fair surface
    hull::Hull hull;
};

/// Reads what a job names as its hull: a model, figures measured by hand, or a scan, of which the
/// fair surface about the damage is found.
///
/// @error bad_input       as read_hull(); tapes that contradict each other
/// @error no_safe_answer  a scan with too little sound skin about the damage
[[nodiscard]] Result<JobHull> read_job_hull(const job::Job& job);

}  // namespace tearline::ground

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

/// The hull of a job alone, for several repairs of it: of a model or figures, not of a scan.
[[nodiscard]] Result<hull::Hull> read_shared_hull(const job::Job& job);

/// Whether a job has scans of its own dish.
[[nodiscard]] bool has_dish_scan(const job::Job& job);

/// A hull that was read for several repairs with the scans of one's dish.
///
/// @error bad_input  as read_job_hull()
[[nodiscard]] Result<hull::Hull> with_dish_scan(const job::Job& job, hull::Hull hull);

}  // namespace tearline::ground

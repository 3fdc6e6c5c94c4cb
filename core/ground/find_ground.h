#pragma once
#include <functional>

#include "core/base/result.h"
#include "core/ground/job_hull.h"

namespace tearline::ground {

/// Whether a job leaves it to the scan of its dish to tell where the ground area ends.
[[nodiscard]] bool asks_for_ground(const job::Job& job);

/// The hull of such a job, the edge of the ground area found by the ramp of its scarf and written
/// into the job as its outline.
///
/// @param read  reads the hull of a job whose damage is given
/// @error bad_input  no clear edge about damage.centre; as read
[[nodiscard]] Result<JobHull> with_ground_found(
    const job::Job& job, const std::function<Result<JobHull>(const job::Job&)>& read);

}  // namespace tearline::ground

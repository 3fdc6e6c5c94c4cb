#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"

namespace tearline::plan {

/// The parts of a repair in the order of work, each a job that is planned like any other: the sides
/// of a hole right through, the skins of a sandwich. The job itself where it is one.
///
/// Each part's damage lies on its own face: carried there along the normals, under a core grown by
/// what is taken away of it.
/// @param job  its points found on the hull
/// @error  as ground::lay_ground()
[[nodiscard]] Result<std::vector<job::Job>> parts_of(const job::Job& job, const hull::Hull& hull);

}  // namespace tearline::plan

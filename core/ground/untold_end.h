#pragma once
#include <optional>
#include <vector>

#include "core/base/outline.h"
#include "core/job/job.h"
#include "core/surface/patch.h"

namespace tearline::ground {

/// Where regions come to a rim of the hull that nobody told to be its end: a scan or figures taken
/// by hand stop there, and the boat may go on. Nothing for an exact model, which ends where it
/// ends.
///
/// @param regions  in the patch's chart, clipped by it
[[nodiscard]] std::optional<Vec3> untold_end(const job::Job& job, const surface::Patch& patch,
                                             const std::vector<Region2>& regions);

}  // namespace tearline::ground

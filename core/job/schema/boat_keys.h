#pragma once
#include "core/job/boat_job.h"
#include "core/job/schema/key.h"

namespace tearline::job {

/// [[remnant]] of a boat's job file.
[[nodiscard]] const Table<Remnant>& remnant_keys();
/// One of its locked pieces.
[[nodiscard]] const Table<LockedPiece>& locked_keys();

}  // namespace tearline::job

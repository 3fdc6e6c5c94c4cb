#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/scan/scan.h"
#include "core/scan/scan_place.h"

namespace tearline::scan {

/// The hull that a scan shows about a place: its fair surface, facing outward; where chines run
/// through the place, one on each side of them.
///
/// @error bad_input       nothing tells which way is out
/// @error no_safe_answer  too little sound skin
[[nodiscard]] Result<hull::Hull> scanned_hull(const Scan& scan, const job::HullOptions& options,
                                              job::Side side, const ScanPlace& place);

}  // namespace tearline::scan

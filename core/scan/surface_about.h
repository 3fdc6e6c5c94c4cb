#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/job/scan.h"
#include "core/scan/fair_surface.h"
#include "core/scan/scan.h"
#include "core/scan/scan_place.h"

namespace tearline::scan {

/// The points of a scan that a surface about a place is fitted to.
///
/// @error bad_input  hardly any lie there
[[nodiscard]] Result<std::vector<Vec3>> points_about(const Scan& scan, const ScanPlace& place);

/// What is asked of a fair surface about a place.
///
/// @param near  points about it, or those of them on one side of a chine
[[nodiscard]] FairRequest request_about(const std::vector<Vec3>& near, const job::HullScan& options,
                                        const ScanPlace& place);

/// The fair surface of a scan about a place.
///
/// @error no_safe_answer  too little sound skin
[[nodiscard]] Result<FairSurface> surface_about(const Scan& scan, const job::HullScan& options,
                                                const ScanPlace& place);

}  // namespace tearline::scan

#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/scan/fair_surface.h"
#include "core/scan/scan.h"

namespace tearline::scan {

/// Where on a scan a repair is.
struct ScanPlace {
    std::vector<Vec3> outline;  ///< [mm] of the damage, near the surface, in order; none: a middle
    Vec3 middle{0, 0, 0};       ///< [mm]
    bool follow_bends = true;   ///< fairness falls where the hull bends tighter than it follows
    bool bridged = true;        ///< what lies inside the outline is not believed
    double reach =
        0.0;  ///< [mm] how far beyond the outline, or round the middle, the surface is wanted
};

/// The part of a job that says where the damage lies on a scan.
///
/// Where the outline is known by tape only, the middle of the marks, with nothing bridged.
/// @param beyond  [mm] what the repair needs beyond the outline
[[nodiscard]] ScanPlace place_of(const job::Job& job, const Scan& scan, double beyond);

/// The fair surface of a scan about a place.
///
/// @error no_safe_answer  too little sound skin
[[nodiscard]] Result<FairSurface> surface_about(const Scan& scan, const job::HullScan& options,
                                                const ScanPlace& place);

/// The hull that a scan shows about a place: its fair surface, facing outward.
///
/// @error bad_input       nothing tells which way is out
/// @error no_safe_answer  too little sound skin
[[nodiscard]] Result<hull::Hull> scanned_hull(const Scan& scan, const job::HullOptions& options,
                                              job::Side side, const ScanPlace& place);

}  // namespace tearline::scan

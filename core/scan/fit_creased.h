#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/job/scan.h"
#include "core/scan/creased_surface.h"
#include "core/scan/data_holes.h"
#include "core/scan/scan.h"
#include "core/scan/scan_place.h"

namespace tearline::scan {

/// The chines of a scan that come near a place.
[[nodiscard]] std::vector<job::ScanCrease> creases_near(const job::HullScan& options,
                                                        const ScanPlace& place);

/// What lies no nearer to a chine's line than this is surely of one side [mm].
[[nodiscard]] double guard_of(double spacing);

/// Fair surfaces on the sides of chines, and how far the chines turn where the damage is.
struct CreasedSides {
    CreasedSurface surface;
    std::vector<double> turns;  ///< [rad] on average
};

/// The first half of fit_creased(): whether chines they are is not asked.
///
/// @error  as fit_creased()
[[nodiscard]] Result<CreasedSides> creased_sides(const std::vector<Vec3>& near,
                                                 const job::HullScan& options,
                                                 const ScanPlace& place,
                                                 const std::vector<job::ScanCrease>& creases);

/// What a scan shows about a place where chines run through it.
struct CreasedFit {
    CreasedSurface surface;
    Loop2 domain;  ///< [mm] in the surface's view
    std::vector<DataHole> holes;
    double cover_degrees = 0.0;  ///< of the band round the outline, by points outside it
};

/// Fair surfaces on the sides of chines, each through its own points, and the chines where they
/// cross.
///
/// @error bad_input       chines that turn back, cross, or are none
/// @error no_safe_answer  too little sound skin on a side
[[nodiscard]] Result<CreasedFit> fit_creased(const Scan& scan, const job::HullScan& options,
                                             const ScanPlace& place,
                                             const std::vector<job::ScanCrease>& creases);

}  // namespace tearline::scan

#pragma once
#include <vector>

#include "core/hull/hull.h"
#include "core/job/scan.h"
#include "core/scan/scan.h"
#include "core/scan/scan_place.h"

namespace tearline::scan {

/// Chines about a place that nobody marked.
struct FoundChines {
    std::vector<job::ScanCrease> creases;        ///< sharp, to be followed as if they were marked
    std::vector<hull::Scanned::Chine> sharp;     ///< the same, as they are told
    std::vector<hull::Scanned::Chine> doubtful;  ///< seen, and not told surely enough
    std::vector<hull::Scanned::Chine> rounded;   ///< bends of a small radius
    std::vector<double> radii;                   ///< [mm] of those
    Vec3 faces{0, 0, 0};  ///< which way to look at the place so that every side shows; zero: any
};

/// Looks for lines that the hull turns along, fits a fair surface to each side of each, and keeps
/// those that turn, by what both sides tell, by more than 15 degrees and than four spreads of it.
///
/// @param marked  what the job marks there already
[[nodiscard]] FoundChines find_chines(const Scan& scan, const job::HullScan& options,
                                      const ScanPlace& place,
                                      const std::vector<job::ScanCrease>& marked);

}  // namespace tearline::scan

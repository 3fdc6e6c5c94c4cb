#pragma once
#include <optional>
#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/scan/scan.h"
#include "core/scan/scanned_hull.h"

namespace tearline::scan {

/// How much larger the hull is than its scan, by tapes.
struct TapeScale {
    double factor = 1.0;         ///< [-] every coordinate of the scan times this is true
    double error = 0.0;          ///< [-] one spread of the factor, as a share of it
    std::vector<double> misfit;  ///< [mm] of each tape: what it reads less what the scan then has
};

/// The scale that fits all tapes best in the least-squares sense, girths measured on the fair
/// surface. Without a tape 1, with what scanners of the kind are known for.
///
/// @param scan   in mm by its unit, before scale
/// @param place  of the damage, whose inside the tapes pass over as if it were sound
/// @error bad_input  photographs without a tape, tapes that contradict each other, a scale that is
///                   a wrong unit
[[nodiscard]] Result<TapeScale> tape_scale(const Scan& scan, const job::HullScan& options,
                                           const ScanPlace& place);

/// A job whose scan and whose places are true mm: every place of the scan times `factor`, bow and
/// up from picked points.
[[nodiscard]] Result<job::Job> in_true_mm(job::Job job, double factor);

}  // namespace tearline::scan

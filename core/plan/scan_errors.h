#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/templates/laid_ply.h"
#include "core/warnings/warning.h"

namespace tearline::ground {
struct Ground;
}

namespace tearline::plan {

/// How well a hull is known by its scan. Errors are told with k = 2.
struct ScanTold {
    std::string kind;
    std::size_t points = 0, used = 0;
    double noise_mm = 0.0, correlation_mm = 0.0, fairness_mm = 0.0;
    double scale = 1.0, scale_error = 0.0;  ///< [-]
    double middle_mm = 0.0, most_mm = 0.0;  ///< how far off the fair surface may be
    Vec3 most_at{0, 0, 0};                  ///< [mm] where most, in the footprint
    double cover_deg = 360.0;
};

/// What scans make unsure of a plan.
struct ScanErrors {
    std::optional<ScanTold> hull;  ///< none: it is no scan
    std::vector<double> edge_mm;   ///< of each ply, in the order of laying; none: no scan was used
    Warnings warnings;
};

/// How far the fair surface and every ply's edge may be off: noise, scale, how places are picked,
/// and the depths of a dish by a scan.
///
/// An edge moves with the surface by what the surface turns across the piece, with the scale by
/// half its size, and in a dish by a scan with every depth by the way out for it (DEFINITIONS.md,
/// Scans).
/// @error no_safe_answer  an edge that may be off by more than its ply's step
[[nodiscard]] Result<ScanErrors> scan_errors(const ground::Ground& ground, const hull::Hull& hull,
                                             const job::Job& job,
                                             std::span<const templates::LaidPly> plies);

}  // namespace tearline::plan

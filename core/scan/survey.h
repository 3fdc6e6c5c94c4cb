#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/base/units.h"
#include "core/hull/hull.h"
#include "core/job/scan.h"
#include "core/scan/scan.h"

namespace tearline::scan {

/// What can be told of a scan without a job: looked at in places spread over it.
struct Survey {
    std::size_t points = 0;
    double spacing = 0.0;              ///< [mm] between neighbouring points
    Vec3 low{0, 0, 0}, high{0, 0, 0};  ///< [mm]
    std::size_t islands = 0;           ///< parts apart from the largest
    std::size_t island_points = 0;
    std::size_t places = 0;                  ///< that fair surfaces were fitted at
    Noise noise;                             ///< as seen, the middle of all places
    double fairness = 0.0;                   ///< [mm] that would be chosen there
    std::vector<hull::Scanned::Hole> holes;  ///< missing data, the largest first
    double tightest_radius = 0.0;            ///< [mm] of the fair surfaces; 0: none
    Vec3 tightest_at{0, 0, 0};               ///< [mm]
    /// Points with how far they lie off their fair surface [mm], to one side of it all over:
    /// outside is where most of the scan faces away from its middle.
    std::vector<std::pair<Vec3, double>> misfit;
    Vec3 outward{0, 0, 1};  ///< unit: which way most of it faces, out
};

/// @error bad_input  fewer points than tell a surface anywhere
[[nodiscard]] Result<Survey> survey(const Scan& scan, job::ScanKind kind);

/// As lines for a person.
[[nodiscard]] std::string survey_text(const Survey& survey, const Scan& scan, job::ScanKind kind,
                                      Units units);

/// The misfit in colour over the scan, seen from outside along the way it is thinnest, as SVG;
/// three of its corners in the scan's own coordinates.
[[nodiscard]] std::string survey_picture(const Survey& survey);

}  // namespace tearline::scan

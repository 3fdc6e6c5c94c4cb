#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/scan/scan.h"

namespace tearline::scan {

/// Which way a scanned surface faces, and how that is known.
struct Outward {
    double sign = 1.0;  ///< of the surface's own normal
    std::string words;  ///< for the report on the hull
};

/// A meshed piece of the fair surface, its triangles counter-clockwise about its own normal.
struct OwnSide {
    const hull::Hull& piece;
    Vec3 middle{0, 0, 0};  ///< [mm] of the damage, on the surface
    Vec3 normal{0, 0, 1};  ///< there
};

/// hull.outward and hull.scan.seen_from put to a scan: where facets face, which way the whole scan
/// or the fair surface bulges.
///
/// @error bad_input  nothing tells, or two signs contradict each other
[[nodiscard]] Result<Outward> outward_of(const Scan& scan, const job::HullOptions& options,
                                         const OwnSide& own);

}  // namespace tearline::scan

#pragma once
#include <optional>
#include <string_view>

#include "core/plies/lay_surface.h"
#include "core/warnings/warning.h"

namespace tearline::plies {

/// The tightest place of one kind on a ply's lay surface.
struct TightPlace {
    double radius = 0.0;  ///< [mm] of the lay surface; 0 on a ridge, |depth| on an opened crease
    Vec3 at{0, 0, 0};     ///< [mm] on the base surface
    double turn = 0.0;    ///< [rad] of the crease, or of all that bends so tightly about it
    double length = 0.0;  ///< [mm] of that crease or bend inside the ply
};

/// The tightest places seen from the laying side; nothing of a kind that the ply does not have.
struct TightestRadii {
    std::optional<TightPlace> convex;   ///< bulging to the laying side
    std::optional<TightPlace> concave;  ///< an inside corner or hollow
};

/// The tightest convex and concave radius of a ply's own lay surface: the base surface's curvature,
/// averaged over discs of tolerance::curvature_disc so that the noise of a scan does not rule,
/// moved to the ply's depth (R - d where it bulges, R + d in a hollow); creases count with their
/// ridge or arc.
///
/// A smooth bend is what hangs together about its tightest place with at least half its curvature:
/// it turns by the integral of the curvature over its area, divided by its length.
[[nodiscard]] TightestRadii tightest_radii(const RegionMesh& region, const LayDepth& depth);

/// Warnings where a ply's radii are tighter than its fabric can lie.
///
/// `radius-concave`: the fillet of filler that cures it, with its volume; `radius-convex`: how far
/// the edge must be eased.
/// @param least_radius  [mm] of the fabric
[[nodiscard]] Warnings radius_warnings(const TightestRadii& radii, double least_radius, int ply,
                                       std::string_view fabric);

/// Cross-section of the filler between a corner and its fillet [mm2].
/// @source  r^2 (tan(f/2) - f/2): two tangents of length r tan(f/2) less the sector (derived)
[[nodiscard]] double fillet_section(double radius, double turn);

}  // namespace tearline::plies

#pragma once
#include <vector>

#include "core/base/vec.h"
#include "core/patch/build_patch.h"
#include "core/surface/surface_mesh.h"

namespace tearline::patch {

/// Points that stand for the damage: its outline and inside, or its centre.
struct RepairRegion {
    std::vector<Vec3> points;  ///< [mm] near the hull, dense on the curve and inside it
    double reach = 0.0;        ///< [mm] from them by geodesic
    double disc = 0.0;         ///< [mm] how far a disc reaches from its centre, over openings too
    Vec3 centre{0, 0, 0};      ///< [mm] of a ball that holds everything within reach
    double radius = 0.0;       ///< [mm]
};

[[nodiscard]] RepairRegion repair_region(const PatchRequest& request);

/// Geodesic distance of every vertex from the region's points [mm]; infinite beyond `limit`.
[[nodiscard]] std::vector<double> distance_from(const RepairRegion& region,
                                                const surface::SurfaceMesh& mesh, double limit);

}  // namespace tearline::patch

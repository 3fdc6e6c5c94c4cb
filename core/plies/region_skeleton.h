#pragma once
#include "core/plane/triangulate_region.h"
#include "core/plies/mesh_region.h"
#include "core/plies/sizing_field.h"

namespace tearline::plies {

/// What a region's mesh is built round: kept points and edges, and how fine it is where.
struct RegionSkeleton {
    plane::Skeleton skeleton;
    Region2 region;  ///< [mm] the outline as resampled
    SizingField sizes;
};

/// Resamples a region's outline and the lines inside it to the lengths the mesh should have.
[[nodiscard]] RegionSkeleton region_skeleton(const surface::Patch& patch, const Region2& region,
                                             const RegionMeshOptions& options);

}  // namespace tearline::plies

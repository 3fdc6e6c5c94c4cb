#pragma once
#include "core/parallel/parallel_surface.h"
#include "core/surface/patch.h"

namespace tearline::parallel {

/// The surface at a depth below a patch; what lies beyond its rim is asked of a wider one.
inline Result<ParallelSurface> at_depth(const surface::Patch& patch, const surface::Patch& wide,
                                        const DepthAtChart& depth) {
    return parallel_surface({patch.mesh, patch.chart, patch.crease, sheet_at_chart(wide)}, depth);
}

inline Result<ParallelSurface> at_depth(const surface::Patch& patch, const DepthAtChart& depth) {
    return at_depth(patch, patch, depth);
}

inline DepthAtChart constant(double depth) {
    return [depth](const Vec2&) { return depth; };
}

}  // namespace tearline::parallel

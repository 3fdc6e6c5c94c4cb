#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"

namespace tearline::hull {

struct SurfaceNeeds {
    job::Side side = job::Side::outside;  ///< the face the glass is laid from
    bool outward_known = true;            ///< refuse where nothing tells which way is out
};

/// From triangles that share vertices to one hull: turned alike, facing outward, one skin, both
/// halves, measured.
///
/// @error bad_input  edges of more than two triangles, a one-sided surface, no known outside, skins
///                   that cannot be told apart, `mirror` without a centreline; with the place
[[nodiscard]] Result<Hull> make_one_surface(Hull hull, const job::HullOptions& options,
                                            const SurfaceNeeds& needs);

}  // namespace tearline::hull

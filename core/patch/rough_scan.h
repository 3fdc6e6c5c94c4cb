#pragma once
#include <optional>

#include "core/remesh/remesh_mesh.h"

namespace tearline::patch {

/// A scan whose noise is so large against its facets that it shows no surface: facets fold up and
/// down as sharply as a chine does, but all over.
struct RoughScan {
    Vec3 at{0, 0, 0};      ///< [mm] the place nearest to the damage where it shows
    double turn = 0.0;     ///< [deg] the middle one of the angles between neighbouring facets
    double most = 0.0;     ///< [deg] the largest of them
    double thin_to = 0.0;  ///< [mm] facets of about this size would turn little by the same noise
};

/// Looks for noise in the neighbourhood of a damage, as it was read.
///
/// Chines, rails and tight bends fold one way along lines and leave the facets between them fair;
/// noise folds most facets, and both ways at one vertex.
/// @param mesh    facets as read
/// @param damage  [mm] its middle
/// @return        nothing for a fair mesh
[[nodiscard]] std::optional<RoughScan> find_rough_scan(const remesh::RemeshMesh& mesh,
                                                       const Vec3& damage);

}  // namespace tearline::patch

#pragma once
#include <optional>

#include "core/remesh/remesh_mesh.h"

namespace tearline::patch {

/// A scan whose noise was smoothed over several facets: none folds, but the surface waves all over.
struct WavyScan {
    Vec3 at{0, 0, 0};     ///< [mm] the place nearest to the damage where it shows
    double height = 0.0;  ///< [mm] spread about smooth surfaces, passed by in three places of four
    double window = 0.0;  ///< [mm] radius of the places looked at
};

/// Looks for waves in the neighbourhood of a damage, as it was read.
///
/// In places spread over the mesh, each a disc of a dozen facets' radius, vertices of a model lie
/// on a polynomial of fourth order, twelfth across a bend, but for its rounding; chines, fillets
/// and fittings are in some places only, noise in every one.
/// @param mesh    facets as read
/// @param damage  [mm] its middle
/// @return        nothing for a fair mesh, or one too coarse to tell
[[nodiscard]] std::optional<WavyScan> find_wavy_scan(const remesh::RemeshMesh& mesh,
                                                     const Vec3& damage);

}  // namespace tearline::patch

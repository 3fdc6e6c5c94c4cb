#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/hull/topology.h"

namespace tearline::hull {

/// The planes holding bow and up at either side of the hull that its open edges lie in.
///
/// @pre triangles turned alike; topology is theirs
[[nodiscard]] std::vector<CentrelinePlane> find_centrelines(const Hull& hull,
                                                            const Topology& topology,
                                                            const job::HullOptions& options);

/// Adds the reflection in the plane: vertices on it are shared, mirrored faces and edges are
/// numbered behind the model's own.
void mirror_half(Hull& hull, const Topology& topology, const CentrelinePlane& plane);

}  // namespace tearline::hull

#pragma once
#include <vector>

#include "core/remesh/remesh_mesh.h"

namespace tearline::remesh {

/// Smooth curves through the chained creases and ends of a mesh; the parameter counts vertices.
class KeptChains {
public:
    struct Chain {
        std::vector<VertexId> vertex;  ///< a closed one repeats its first
        std::vector<Vec3> point;       ///< [mm]
        std::vector<Vec3> slope;       ///< [mm] per unit of the parameter
    };

    /// Chains the marked edges; a chain ends where other than two meet and at sharp bends.
    ///
    /// Each marked edge's KeptEdge gets its chain and parameters; hull_end is left alone.
    KeptChains(RemeshMesh& mesh, const PerId<TriangleId, std::array<bool, 3>>& marked);
    KeptChains() = default;

    [[nodiscard]] Vec3 at(std::int32_t chain, double parameter) const;
    [[nodiscard]] Vec3 slope_at(std::int32_t chain, double vertex_parameter, bool leaving) const;

private:
    void add_slopes(Chain& chain) const;
    std::vector<Chain> chains_;
};

}  // namespace tearline::remesh

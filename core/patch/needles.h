#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "core/base/vec.h"
#include "core/surface/patch_index.h"

namespace tearline::patch {

/// Needle-shaped facets of a mesh: along straight edges export programs leave facets metres long
/// and less than a millimetre high. They lie where they should, but what their corners say of the
/// surface's direction is of no use between them: it may turn by half a right angle along a keel.
/// The sound facets at the shore of such a cluster of needles tell it. Slivers as small that lie
/// any way round, as meshes leave them at poles, are needles too; a fillet in fine steps is none.
class Needles {
public:
    using Corners = std::vector<std::array<std::int32_t, 3>>;

    Needles() = default;
    /// @param neighbour  across edge i -> i+1 of each facet, -1 at the rim
    Needles(const std::vector<Vec3>& position, const Corners& vertex, const Corners& neighbour);

    /// Whether a facet is a needle that sound facets stand in for.
    [[nodiscard]] bool is_needle(std::int32_t facet) const {
        return !cluster_.empty() && cluster_[facet] >= 0;
    }

    /// The sound facet at the cluster's shore that is nearest to a point.
    /// @pre is_needle(facet)
    [[nodiscard]] surface::NearestTriangle stand_in(std::int32_t facet,
                                                    const std::vector<Vec3>& position,
                                                    const Corners& vertex, const Vec3& point) const;

private:
    std::vector<std::int32_t> cluster_;             ///< per facet; empty when there is no needle
    std::vector<std::vector<std::int32_t>> shore_;  ///< per cluster: sound facets beside it
};

}  // namespace tearline::patch

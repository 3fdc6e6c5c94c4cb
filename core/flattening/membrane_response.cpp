#include "core/flattening/membrane_response.h"

#include <stdexcept>
#include <utility>

#include "core/flattening/tolerances.h"

namespace tearline::flattening {

Result<MembraneResponse> MembraneResponse::of(const surface::SurfaceMesh& mesh,
                                              std::span<const Vec2> flat) {
    auto energy = MembraneEnergy::of(mesh);
    if (!energy) return tl::unexpected(energy.error());
    MembraneResponse response(std::move(*energy));
    if (flat.size() != response.energy_.vertex_count())
        throw std::logic_error("MembraneResponse: mesh and flat shape disagree in their vertices");
    if (!response.direction_.is_ready())
        throw std::logic_error("MembraneResponse: the mesh is not connected");
    response.flat_ =
        Eigen::Map<const Places>(flat.front().data(), 2, static_cast<Eigen::Index>(flat.size()));
    response.at_rest_.resizeLike(response.flat_);
    response.energy_.linearise(response.flat_, response.at_rest_);
    return response;
}

Result<Places> MembraneResponse::moved(const surface::SurfaceMesh& changed) {
    auto energy = MembraneEnergy::of(changed);
    if (!energy) return tl::unexpected(energy.error());
    Places residual(2, flat_.cols()), step;
    energy->linearise(flat_, residual);
    residual = at_rest_ - residual;
    direction_.solve(energy_, tolerance::response_solve, residual, step);
    return step;
}

}  // namespace tearline::flattening

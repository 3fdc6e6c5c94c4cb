#include "core/flattening/membrane_response.h"

#include <stdexcept>
#include <utility>

#include "core/flattening/tolerances.h"

namespace tearline::flattening {

namespace {

double dot(const Places& a, const Places& b) {
    return a.cwiseProduct(b).sum();
}

}  // namespace

Result<MembraneResponse> MembraneResponse::of(const surface::SurfaceMesh& mesh,
                                              std::span<const Vec2> flat) {
    auto energy = MembraneEnergy::of(mesh);
    if (!energy) return tl::unexpected(energy.error());
    MembraneResponse response(std::move(*energy));
    if (flat.size() != response.energy_.vertex_count())
        throw std::logic_error("MembraneResponse: mesh and flat shape disagree in their vertices");
    response.held_ = response.energy_.corners(0)[0];
    if (!response.factor_.compute(held_laplacian(response.energy_, response.held_)))
        throw std::logic_error("MembraneResponse: the mesh is not connected");
    response.flat_ =
        Eigen::Map<const Places>(flat.front().data(), 2, static_cast<Eigen::Index>(flat.size()));
    response.at_rest_.resizeLike(response.flat_);
    response.energy_.linearise(response.flat_, response.at_rest_);
    return response;
}

void MembraneResponse::precondition(const Places& right, Places& out) {
    Places half = 0.5 * right;  // the Hessian at rest is twice the Laplacian but for turning
    half.col(held_).setZero();
    factor_.solve(half, out);
}

Result<Places> MembraneResponse::moved(const surface::SurfaceMesh& changed) {
    auto energy = MembraneEnergy::of(changed);
    if (!energy) return tl::unexpected(energy.error());
    Places residual(2, flat_.cols()), image(2, flat_.cols());
    energy->linearise(flat_, residual);
    residual = at_rest_ - residual;
    residual.col(held_).setZero();
    Places step = Places::Zero(2, flat_.cols());
    precondition(residual, image);
    Places search = image;
    double size = dot(residual, image);
    const double enough = size * tolerance::response_solve * tolerance::response_solve;
    for (int i = 0; i < tolerance::most_conjugate_steps && size > enough; ++i) {
        energy_.apply_hessian(search, image);
        image.col(held_).setZero();
        const double bend = dot(search, image);
        if (!(bend > 0.0)) break;
        const double share = size / bend;
        step += share * search;
        residual -= share * image;
        precondition(residual, image);
        const double next = dot(residual, image);
        search = image + (next / size) * search;
        size = next;
    }
    return step;
}

}  // namespace tearline::flattening

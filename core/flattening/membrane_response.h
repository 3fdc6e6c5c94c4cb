#pragma once
#include <span>

#include "core/base/result.h"
#include "core/flattening/membrane_energy.h"
#include "core/flattening/newton_direction.h"

namespace tearline::flattening {

/// How the flat shape of a membrane follows small changes of its edge lengths.
///
/// One Newton step from the flat shape of before, with the Hessian and the factored Laplacian of
/// before: many changes for the price of one factor.
class MembraneResponse {
public:
    /// @param mesh  as it was laid flat
    /// @param flat  [mm] per vertex, where the energy is least
    /// @error no_safe_answer  edges that make no triangle
    [[nodiscard]] static Result<MembraneResponse> of(const surface::SurfaceMesh& mesh,
                                                     std::span<const Vec2> flat);

    /// @param changed  the same triangles with other edge lengths
    /// @return         [mm] movement of every vertex, one column each; turned and moved as a whole
    ///                 in no way that means anything
    /// @error no_safe_answer  edges that make no triangle
    [[nodiscard]] Result<Places> moved(const surface::SurfaceMesh& changed);

private:
    explicit MembraneResponse(MembraneEnergy energy)
        : energy_(std::move(energy)), direction_(energy_) {}

    MembraneEnergy energy_;
    NewtonDirection direction_;
    Places flat_, at_rest_;  ///< the shape, and the gradient that is left there
};

}  // namespace tearline::flattening

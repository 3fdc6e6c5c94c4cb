#pragma once
#include <cstdint>

#include "core/flattening/membrane_energy.h"
#include "core/flattening/sparse_factor.h"

namespace tearline::flattening {

/// Newton directions of a membrane, by conjugate gradients that its factored Laplacian goes before.
///
/// One vertex is held, since the energy leaves moving as a whole free.
class NewtonDirection {
public:
    explicit NewtonDirection(const MembraneEnergy& energy);

    /// Not of a mesh that falls apart, or that is squeezed to nothing somewhere.
    [[nodiscard]] bool is_ready() const { return ready_; }

    /// out = (2 L)^-1 right, the held vertex staying where it is: the Hessian at rest is twice the
    /// Laplacian but for turning.
    void precondition(const Places& right, Places& out);

    /// step = H^-1 right with the Hessian at the energy's last `linearise`.
    ///
    /// @param right      used up
    /// @param exactness  [-] of what is left by what there was, in the Laplacian's norm
    /// @return           conjugate gradient steps taken
    int solve(const MembraneEnergy& energy, double exactness, Places& right, Places& step);

private:
    std::int32_t held_;
    SparseFactor factor_;
    bool ready_ = false;
    Places half_, search_, image_;
};

}  // namespace tearline::flattening

#pragma once
#include "core/surface/patch.h"

namespace tearline::surface {

class Winding;

/// The exact surface that a patch's triangles stand for.
class SurfaceBehind {
public:
    virtual ~SurfaceBehind() = default;

    /// How it winds round a tube; null where it does not.
    [[nodiscard]] virtual const Winding* winding() const { return nullptr; }

    /// The surface at a location of the patch: the point that the flat point of the triangle is
    /// carried to along its normal, with the normal of the triangle's own side of a crease.
    [[nodiscard]] virtual SurfaceSample at(const SurfaceMesh& mesh,
                                           const Location& location) const = 0;
};

}  // namespace tearline::surface

#pragma once
#include <array>
#include <cstdint>

#include "core/base/vec.h"

namespace tearline::surface {

/// A place of the model's own surface: a CAD face with its parameters, or a facet of the mesh that
/// was read with two of its barycentric weights (the second and the third).
struct Anchor {
    std::int32_t face = -1;
    Vec2 uv{0, 0};
};

/// A point carried to the model's surface.
struct Carried {
    Anchor anchor;
    Vec3 position{0, 0, 0};    ///< [mm] on the surface
    Vec3 normal{0, 0, 1};      ///< unit, outward
    double curvature_min = 0;  ///< [1/mm] positive where the surface bulges outward
    double curvature_max = 0;  ///< [1/mm]
};

/// Carries points near the model to its exact surface: the foot of the normal through them.
///
/// What remeshing and sampling need of a model, whether it is CAD or a mesh.
class Carrier {
public:
    virtual ~Carrier() = default;

    /// The foot of `point` on the face of `start`, searched from there.
    [[nodiscard]] virtual Carried carry(const Anchor& start, const Vec3& point) const = 0;

    /// A first guess inside a triangle whose corners lie at `corner`.
    [[nodiscard]] virtual Anchor between(const std::array<Anchor, 3>& corner,
                                         const Vec3& weights) const = 0;

    /// Whether two anchors of one vertex mean the same place by the same parameters.
    [[nodiscard]] virtual bool same(const Anchor& a, const Anchor& b) const = 0;

    /// The point of a kept edge (a CAD edge, a crease or the rim of a mesh) at its parameter.
    [[nodiscard]] virtual Vec3 edge_point(std::int32_t edge, double parameter) const = 0;
};

}  // namespace tearline::surface

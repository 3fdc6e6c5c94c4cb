#pragma once
#include <array>
#include <span>
#include <vector>

#include "core/base/result.h"
#include "core/flattening/tolerances.h"
#include "core/surface/surface_mesh.h"

namespace tearline::flattening {

struct MembraneOptions {
    double stop_movement =
        tolerance::flat_movement;  ///< [mm] > 0: no vertex has more than this to move
    int most_steps = 200;          ///< [-] > 0: Newton steps before giving up
};

/// A surface laid flat as an elastic membrane.
struct Flattening {
    std::vector<Vec2> flat;  ///< [mm] per vertex
    double energy = 0.0;     ///< [mm2] integral of (s1-1)^2 + (s2-1)^2
    double area = 0.0;       ///< [mm2] of the lay surface, from the edge lengths
    std::vector<std::array<double, 2>> stretch;  ///< principal stretches per triangle, s1 >= s2
    int steps = 0;                               ///< conjugate gradient steps in all
    int newton_steps = 0;
    int flipped = 0;  ///< triangles turned over in the best answer found
};

/// The flat shape with the least membrane energy for given edge lengths (DEFINITIONS.md, Mat).
///
/// Orientation is kept: counter-clockwise triangles stay counter-clockwise. Where a start leads
/// to triangles turned over the best plane and then a fold-free circle are tried; `flipped` tells
/// how many are left. The flat shape lies best, by area, over the first start.
/// @param mesh   connected, manifold, with boundary; `triangle` and `edge_length` are used, and
///               `position` and `corner_normal` only for a start when `start` is empty
/// @param start  [mm] per vertex, or empty
/// @error no_safe_answer  not converged, edges that make no triangle, or a closed surface
/// @source  E/A = |F|^2 - 2 |(F00+F11, F10-F01)| + 2; Newton on it with conjugate gradients
///          preconditioned by the cotangent Laplacian, the energy's Hessian at rest but for turning
[[nodiscard]] Result<Flattening> flatten_membrane(const surface::SurfaceMesh& mesh,
                                                  std::span<const Vec2> start = {},
                                                  const MembraneOptions& options = {});

}  // namespace tearline::flattening

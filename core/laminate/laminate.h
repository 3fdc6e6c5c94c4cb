#pragma once
#include <Eigen/Core>
#include <span>
#include <string>
#include <vector>

#include "core/laminate/lamina.h"

namespace tearline::laminate {

/// One ply in a laminate.
struct Layer {
    Lamina lamina;
    double thickness = 0.0;      ///< [mm]
    double angle_degrees = 0.0;  ///< of the warp, counter-clockwise from x
};

/// Plies from the far face to the laying face.
using Layers = std::vector<Layer>;

/// Stiffness of a laminate about its own middle: N = A e + B k, M = B e + D k.
struct Stiffness {
    Eigen::Matrix3d a;       ///< [N/mm]
    Eigen::Matrix3d b;       ///< [N]
    Eigen::Matrix3d d;       ///< [N mm]
    double thickness = 0.0;  ///< [mm]
};

/// Classical lamination theory; any angles, symmetric or not.
///
/// @source  derived in core/laminate/README.md
[[nodiscard]] Stiffness stiffness_of(std::span<const Layer> layers);

/// What a laminate does along one direction, a millimetre of width.
struct Directional {
    double membrane_stiffness = 0.0;  ///< [N/mm] curvatures held: the skin around holds it flat
    double bending_stiffness = 0.0;   ///< [N mm] without membrane force, about its own neutral axis
    double tension = 0.0;             ///< [N/mm] when the first ply fails, curvatures held
    double compression = 0.0;         ///< [N/mm] the same in compression, buckling aside
    double bending = 0.0;             ///< [N] moment a mm at which the first ply fails
};

struct Behaviour {
    double thickness = 0.0;  ///< [mm]
    Directional along;       ///< x, the bow direction
    Directional across;      ///< y
};

/// Stiffness and first-ply strength along x and across.
///
/// A ply fails by the largest stress in its own axes: tensile, compressive and in-plane shear
/// strength in the plane, flexural and shear strength at its faces in bending.
/// @pre at least one layer
[[nodiscard]] Behaviour behaviour_of(std::span<const Layer> layers);

}  // namespace tearline::laminate

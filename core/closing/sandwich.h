#pragma once
#include <string>

#include "core/laminate/laminate.h"

namespace tearline::closing {

/// A skin of a sandwich, a millimetre wide, along one direction.
struct Face {
    double thickness = 0.0;  ///< [mm]
    double membrane = 0.0;   ///< [N/mm] its modulus times its thickness
    double bending = 0.0;    ///< [N mm] about its own middle
    double strength = 0.0;   ///< [MPa] the lesser of tension and compression
};

/// Two skins and what lies between, for screening: the core's own stiffness is left out.
struct Sandwich {
    double bending_stiffness = 0.0;  ///< [N mm] a millimetre of width
    double moment = 0.0;             ///< [N] a mm, at which the first skin has its strength
    double lever = 0.0;              ///< [mm] between the middles of the skins
    std::string first_to_fail;       ///< "outer skin" | "inner skin"

    /// Shear in the core for a shear force a mm of width [MPa]: force / lever.
    [[nodiscard]] double core_shear(double force) const { return force / lever; }
};

/// @param core  [mm] between the skins
/// @source  Two membranes at their distance about the common neutral axis, and the skins' own
///          bending (DEFINITIONS.md, Sides)
[[nodiscard]] Sandwich sandwich_of(const Face& outer, double core, const Face& inner);

/// A skin along x, or across.
[[nodiscard]] Face face_of(std::span<const laminate::Layer> layers, bool across);

}  // namespace tearline::closing

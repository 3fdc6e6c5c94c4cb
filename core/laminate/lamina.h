#pragma once
#include <string>

#include "core/job/job.h"

namespace tearline::laminate {

/// Elastic constants and strengths of one cured ply in its fibre axes.
struct Lamina {
    double e1 = 0.0, e2 = 0.0;  ///< [MPa] along and across the warp
    double g12 = 0.0;           ///< [MPa]
    double nu12 = 0.0;          ///< [-]
    double tensile = 0.0;       ///< [MPa] along either axis, as are the next two
    double compressive = 0.0;   ///< [MPa]
    double flexural = 0.0;      ///< [MPa] the stress at the face of a bent ply at failure
    double shear = 0.0;         ///< [MPa] in-plane
    double interlaminar = 0.0;  ///< [MPa] shear between plies
    std::string source;         ///< where the figures come from, as it is to be shown
};

/// A ply of a kind of cloth at a glass content, hand-laid E-glass and polyester.
///
/// Mat is the same in every direction. Biaxial cloth has the figures of woven cloth of its glass
/// content, turned by 45 degrees where it is stacked.
///
/// @param glass_content  psi, by mass, in (0, 1)
/// @source  ISO 12215-5 formulas, from memory; Poisson ratio 0.30 of mat common practice, 0.17 of
///          cloth from the published lecture of SOURCES.md section 6
[[nodiscard]] Lamina lamina_of(job::FabricKind kind, double glass_content);

/// The same with every figure that the fabric's data sheet gives in place of the formula's.
[[nodiscard]] Lamina lamina_of(const job::Fabric& fabric);

}  // namespace tearline::laminate

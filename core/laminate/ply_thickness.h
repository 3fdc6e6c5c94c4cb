#pragma once
#include "core/job/job.h"

namespace tearline::laminate {

/// [g/cm3] E-glass, as SOURCES.md section 2 and ISO 12215-5 use it.
inline constexpr double glass_density = 2.56;

/// Cured thickness of one ply by mass balance: w / rho_g + w (1 - psi) / (psi rho_m).
///
/// @param weight         dry glass, > 0
/// @param glass_content  psi, by mass, in (0, 1)
/// @param cured_density  of the resin [g/cm3], > 0
/// @return [mm]
/// @source derived from the mass balance; with 1.20 g/cm3 the same as w (2.56/psi - 1.36) / 3.072
[[nodiscard]] double ply_thickness(GramsPerSquareMetre weight, double glass_content,
                                   double cured_density);

/// Cured thickness of a fabric: its data sheet's where given, else by mass balance [mm].
[[nodiscard]] double ply_thickness(const job::Fabric& fabric, const job::Resin& resin);

/// Resin for a mass of glass in the cured laminate: glass (1 - psi) / psi.
[[nodiscard]] double resin_per_glass(double glass_content);

}  // namespace tearline::laminate

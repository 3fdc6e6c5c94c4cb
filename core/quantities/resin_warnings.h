#pragma once
#include "core/quantities/quantities.h"

namespace tearline::quantities {

/// [C] from here on a shop is warned of; common practice (no source).
inline constexpr Celsius hot_shop{30.0};

/// [mm] more than this laid in one go is warned of, whatever stage_thickness says; common practice
/// (no source).
inline constexpr double thick_stage = 6.0;

/// [g] more than this in a cup of unknown gel time is warned of; common practice (no source).
inline constexpr Grams large_cup{500.0};

/// What the resin, its hardener and the shop ask for attention to, each with reason and remedy.
[[nodiscard]] Warnings resin_warnings(const Repair& repair, const Quantities& quantities);

/// [-] glass content of hand lay-up on complex shapes, the least there is: mat 0.25, roving 0.36.
/// @source  from memory (SOURCES.md section 2)
[[nodiscard]] double least_content(job::FabricKind kind);

/// Emulsion-bound mat in epoxy; empty for any other pair.
[[nodiscard]] Warnings binder_warnings(const job::Fabric& fabric, const job::Resin& resin);

/// The part of them that holds for any cup: hardener figure and gel time.
///
/// @param cups     of resin
/// @param topcoat  cups of it
[[nodiscard]] Warnings mixing_warnings(const job::Job& job, const std::vector<Cup>& cups,
                                       const std::vector<Cup>& topcoat = {});

}  // namespace tearline::quantities

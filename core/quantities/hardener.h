#pragma once
#include <array>
#include <optional>
#include <string>

#include "core/base/quantity.h"
#include "core/job/job.h"
#include "core/warnings/of_resin.h"

namespace tearline::quantities {

/// What one batch takes, each figure only where it is known.
struct Recipe {
    std::optional<Grams> resin;  ///< alone, without hardener
    std::optional<Millilitres> resin_volume;
    std::optional<Grams> hardener;
    std::optional<Millilitres> hardener_volume;
};

/// By which a volume to mix is found where the densities are not known: it can only make the cup
/// too large or too small, never the ratio wrong.
/// @source from memory
inline constexpr GramsPerMillilitre sizing_density{1.10};

/// Between which the densities of polyester's hardeners lie; from memory.
inline constexpr std::array<GramsPerMillilitre, 2> hardener_densities = {GramsPerMillilitre(1.02),
                                                                         GramsPerMillilitre(1.18)};

/// [%] more hardener than any data sheet of polyester allows, by which vinylester is judged too:
/// both take the same peroxides.
/// @source published supplier sheets, "some 1-4 %" (SOURCES.md section 4)
inline constexpr double most_hardener_percent = 4.0;

/// [%] the same for gel coat and topcoat.
/// @source published supplier sheets (SOURCES.md section 4)
inline constexpr double most_topcoat_percent = 3.0;

/// Whether the hardener's density is the usual one of polyester's and not the user's own: mL are
/// then shown with the densities that makers have.
[[nodiscard]] bool density_assumed(const job::Resin& resin);

/// Whether both liquids' densities are known, so that a batch can be shown by mass and by volume.
[[nodiscard]] bool densities_known(const job::Resin& resin);

/// What the usual density of a hardener is worth where it stands in for the user's own: which unit
/// to measure by, and whether the other is given; a sentence, empty where the density is the
/// user's.
[[nodiscard]] std::string assumed_density_words(const job::Resin& resin);

/// Which of the two densities are not known: "the hardener's density", "the densities of both
/// liquids".
///
/// @pre  not both of them are
[[nodiscard]] std::string missing_densities(const job::Resin& resin);

/// Resin and hardener of a batch, on the basis that the data sheet gives the hardener.
///
/// The other basis is given where both densities are known, and where the usual density of
/// polyester's hardener stands in for the user's own, only if no maker's would leave
/// hardener_range.
///
/// @param resin_mass  resin as `totals.resin_g` counts it: without hardener for polyester and
///                    vinylester, resin and hardener together for epoxy
/// @return no hardener when the job has no figure for it
/// @source derived in core/quantities/README.md
[[nodiscard]] Recipe recipe_for(Grams resin_mass, const job::Resin& resin);

/// Of what is mixed as `totals.resin_g` counts it, to turn a volume of it into grams.
[[nodiscard]] GramsPerMillilitre mixture_density(const job::Resin& resin);

/// Hardener of a topcoat, which has a percentage of its own, by mass.
[[nodiscard]] Recipe topcoat_recipe(Grams topcoat, const job::Job& job);

/// Why the gel time of the job may not be used here; nothing when it may.
///
/// Gel data count within 2 C and 0.1 % of the conditions they were measured at (DEFINITIONS.md).
[[nodiscard]] std::optional<warn::NoGelTime> reason_against_gel_time(const job::Job& job);

/// Minutes within which a cup must be used; nothing without gel data that count here.
[[nodiscard]] std::optional<Minutes> use_within(const job::Job& job);

}  // namespace tearline::quantities

#pragma once
#include <optional>
#include <string>

#include "core/base/quantity.h"
#include "core/base/sentence.h"
#include "core/job/job.h"

namespace tearline::quantities {

/// Hardener for one batch, for the scale and for the syringe.
struct Dose {
    Grams mass;
    Millilitres volume;
};

/// Hardener for a batch of resin, on the basis that the data sheet gives it.
///
/// @param resin_mass  resin as `totals.resin_g` counts it: without hardener for polyester and
///                    vinylester, resin and hardener together for epoxy
/// @return nothing when the job has no figure (vinylester has no default)
/// @source derived in core/quantities/README.md
[[nodiscard]] std::optional<Dose> hardener_for(Grams resin_mass, const job::Resin& resin);

/// Why the gel time of the job may not be used here; empty when it may.
///
/// Gel data count within 2 C and 0.1 % of the conditions they were measured at (DEFINITIONS.md).
[[nodiscard]] Sentence reason_against_gel_time(const job::Job& job);

/// Minutes within which a cup must be used; nothing without gel data that count here.
[[nodiscard]] std::optional<Minutes> use_within(const job::Job& job);

}  // namespace tearline::quantities

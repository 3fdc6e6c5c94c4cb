#pragma once
#include <string>
#include <vector>

#include "core/boat/boat.h"

namespace tearline::boat {

/// Covers or torn bands of two places lie on one another, as the job allows.
[[nodiscard]] ToldOf footprints_meet(const std::string& first, const std::string& second);

/// No cup is shared, since nobody knows how long one may be used.
[[nodiscard]] ToldOf no_cup_shared();

/// Nothing is cut from a remnant.
///
/// @param wanted  whether any place lays that cloth
[[nodiscard]] ToldOf remnant_not_used(const layout::CutRemnant& remnant, bool wanted);

/// A place is not planned.
[[nodiscard]] ToldOf repair_refused(const Repair& repair);

/// A warning of a plan.
[[nodiscard]] ToldOf told_of(const Warning& warning, std::vector<std::string> repairs);

/// After cups are shared: what is warned of the cups that a place still mixes itself.
void warn_of_cups_anew(Plan& plan);

/// What is warned of cups that several places take of.
[[nodiscard]] std::vector<ToldOf> shared_cup_warnings(const job::Job& job,
                                                      const std::vector<SharedCup>& cups);

/// Adds the warnings of all places; what several say in the same words is told once, with their
/// names.
void add_warnings_of(const std::vector<Repair>& repairs, std::vector<ToldOf>& all);

}  // namespace tearline::boat

#pragma once
#include <array>
#include <optional>
#include <string_view>

#include "core/plan.h"
#include "core/quantities/hardener.h"

namespace tearline::quantities {

/// A tool's divisions.
///
/// @source  scale and 1 mL syringe as sold for the purpose; the others common practice (no source)
struct ToolFacts {
    double half = 0.0;        ///< half a division: [g] of the scale, [mL] of the others
    double most = 0.0;        ///< what it takes in one go, in the same unit
    std::string_view words;   ///< "1-mL syringe"
    std::string_view marked;  ///< "in hundredths of a mL"
};

[[nodiscard]] const ToolFacts& facts_of(Tool tool);

/// [-] half a division is at most this share of a dose.
inline constexpr double division_share = 0.05;

/// Drops in one dose that a hand still counts; common practice (no source).
inline constexpr int most_drops = 100;

/// One mixture as its doses are measured, for each gram of it as `Cup::resin_g` counts it.
struct Mixture {
    Recipe gram;
    /// What hardener_range allows for each gram, by whichever hardener is poured.
    std::optional<std::array<double, 2>> grams_between, mL_between;
    bool by_volume = false;              ///< the data sheet's basis: volumes come first
    std::optional<double> drops_per_mL;  ///< counted
};

[[nodiscard]] Mixture resin_mixture(const job::Resin& resin);
[[nodiscard]] Mixture topcoat_mixture(const job::Job& job);

/// Fills what is really mixed for a cup: as many grams as are asked for where each dose can be
/// measured, otherwise the smallest batch whose doses can.
///
/// A dose can be measured where half a division of some tool is at most `division_share` of it and
/// the dose, half a division more or less, stays inside hardener_range. Near an end of the range
/// the dose aimed at lies half a division further in.
///
/// @param grams  needed, counted as `Cup::resin_g`, > 0
void fill_mixing(double grams, const Mixture& mixture, Cup& cup);

}  // namespace tearline::quantities

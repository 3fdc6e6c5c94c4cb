#pragma once
#include <array>
#include <optional>
#include <string_view>

#include "core/quantities/cup.h"
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

/// The finest syringe, or the jug, that shows a volume to `division_share`; none for too little.
[[nodiscard]] std::optional<Tool> tool_by_volume(Millilitres volume);

/// [-] half a division is at most this share of a dose.
inline constexpr double division_share = 0.05;

/// [-] of what a cup is needed for, this much more may be mixed for doses that can be measured;
/// common practice (no source).
inline constexpr double most_left_over = 0.10;

/// [-] by which two readings may miss a fixed ratio where none near meets it; common practice (no
/// source).
inline constexpr double ratio_off = 0.005;

/// Drops in one dose that a hand still counts; common practice (no source).
inline constexpr int most_drops = 100;

/// One mixture as its doses are measured, for each gram of it as `Cup::resin_g` counts it.
struct Mixture {
    Recipe gram;
    /// What hardener_range allows for each gram, by whichever hardener is poured.
    std::optional<std::array<double, 2>> grams_between, mL_between;
    bool by_volume = false;              ///< the data sheet's basis: volumes come first
    bool fixed_ratio = false;            ///< epoxy's: one liquid's reading fixes the other's
    std::optional<double> drops_per_mL;  ///< counted
};

[[nodiscard]] Mixture resin_mixture(const job::Resin& resin);
[[nodiscard]] Mixture topcoat_mixture(const job::Job& job);

/// A cup with what is really mixed in it, what is needed left to others: as many grams as are asked
/// for where each dose can be measured, otherwise the smallest batch whose doses can.
///
/// A dose can be measured where half a division of some tool is at most `division_share` of it and
/// the dose, half a division more or less, stays inside hardener_range. Near an end of the range
/// the dose aimed at lies half a division further in.
///
/// Where the data sheet's basis is volume the batch is rounded up to what its tools show: the resin
/// to a division, and both parts of a fixed ratio to divisions that keep it, exactly where that
/// takes no more than `most_left_over`, or to `ratio_off`. Where the resin's division leaves a
/// hardener that no tool shows, the batch goes on to the next that fits. The other way to measure a
/// fixed ratio is given only where it keeps the ratio within `ratio_off`.
///
/// @param needed  counted as `Cup::resin_g`, > 0
[[nodiscard]] Cup mixed_cup(Grams needed, const Mixture& mixture);

/// Whether more is left over of a cup than `most_left_over`: its doses are too small for the tools.
[[nodiscard]] bool too_small(const Cup& cup);

/// Whether a cup's hardener has a figure that no tool shows inside hardener_range.
[[nodiscard]] bool lacks_tool(const Cup& cup);

/// Whether what is left over of a cup comes from rounding doses up to divisions of their tools.
[[nodiscard]] bool rounded_up(const Cup& cup, const job::Resin& resin);

}  // namespace tearline::quantities

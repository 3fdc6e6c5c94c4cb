#pragma once
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "core/job/job.h"
#include "core/laminate/laminate.h"

namespace tearline::laminate {

/// New over old; the lesser of along and across.
struct Ratios {
    double membrane_stiffness = 0.0, bending_stiffness = 0.0;
    double tension = 0.0, compression = 0.0;
    double bending_strength = 0.0;

    /// In the plane: the lesser of tension and compression.
    [[nodiscard]] double membrane_strength() const { return std::min(tension, compression); }
};

/// The laminate of a repair beside what was there before.
struct Comparison {
    Behaviour patch;        ///< the new glass that stays, and the floor left under it
    double floor_mm = 0.0;  ///< old laminate left under the dish, counted in `patch`
    double kept_mm = 0.0;   ///< new glass counted in `patch`: what stays when it is sanded fair
    double sanded_off_mm = 0.0;       ///< new glass laid above that, not counted
    std::optional<Behaviour> before;  ///< none when the job does not say
    std::optional<Ratios> ratios;
    std::vector<std::string> sources;  ///< "mat 450: ISO 12215-5 formulas, from memory"
    std::string verdict;               ///< a plain sentence
    bool weaker = false;               ///< the patch bears less than the old laminate
    bool much_stiffer = false;
};

/// Layers of a stack in the order of laying; `axis` of biaxial cloth is its roll direction.
[[nodiscard]] Layers layers_of(const std::vector<job::StackEntry>& stack, const job::Job& job);

/// The old laminate from its far face on; empty when the job does not say.
[[nodiscard]] Layers old_layers(const job::Job& job);

/// The lowest part of a laminate, from its far face up to a thickness.
[[nodiscard]] Layers lowest(const Layers& layers, double thickness);

/// Compares what stays of the plies laid, on what the dish leaves of the old laminate, with the old
/// laminate. Topcoat is not counted; the verdict says whether the bond along the scarf carries it.
///
/// @param plies  in the order of laying, from the floor up, covers included
/// @param kept   [mm] over the floor, what stays when it is sanded fair; none: all of it
[[nodiscard]] Comparison compare(const std::vector<job::StackEntry>& plies, const job::Job& job,
                                 std::optional<double> kept = {});

/// Whether a stack reaches what `layup.fill_to` aims at, thickness aside.
[[nodiscard]] bool reaches_aim(const std::vector<job::StackEntry>& stack, const job::Job& job);

}  // namespace tearline::laminate

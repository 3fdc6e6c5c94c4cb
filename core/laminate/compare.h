#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/job/job.h"
#include "core/laminate/laminate.h"

namespace tearline::laminate {

/// New over old; the lesser of along and across.
struct Ratios {
    double membrane_stiffness = 0.0, bending_stiffness = 0.0;
    double membrane_strength = 0.0;  ///< the lesser of tension and compression
    double bending_strength = 0.0;
};

/// The laminate of a repair beside what was there before.
struct Comparison {
    Behaviour patch;        ///< the stack without cover plies, and the floor left under it
    double floor_mm = 0.0;  ///< old laminate left under the dish, counted in `patch`
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

/// Compares a stack, laid on what the dish leaves of the old laminate, with the old laminate.
[[nodiscard]] Comparison compare(const std::vector<job::StackEntry>& stack, const job::Job& job);

/// Whether a stack reaches what `layup.fill_to` aims at, thickness aside.
[[nodiscard]] bool reaches_aim(const std::vector<job::StackEntry>& stack, const job::Job& job);

}  // namespace tearline::laminate

#pragma once
#include <optional>
#include <vector>

#include "core/quantities/quantities.h"

namespace tearline::quantities {

/// What one tool measures: a tool that has been in one liquid never goes into another.
enum class Liquid { resin, hardener, mixed_resin, topcoat, topcoat_hardener };

/// A tool of the doses and a liquid that it measures.
struct ToolUse {
    Tool tool = Tool::scale;
    Liquid liquid = Liquid::resin;
    [[nodiscard]] auto operator<=>(const ToolUse&) const = default;
};

/// How else the resin of a cup is measured, where that is of use: nobody pours by volume what is
/// weighed to the gram, unless the sheet shows fluid ounces or the resin is epoxy.
[[nodiscard]] std::optional<Measured> resin_otherwise(const job::Job& job, const Cup& cup);

/// Mixed resin that wets the ground, its waste included, as `totals.resin_g` counts it.
[[nodiscard]] Grams ground_resin(const job::Resin& resin, const Totals& totals);

/// By what it is taken out of the next stage's first cup; nothing where it has cups of its own, or
/// is too little for any tool.
[[nodiscard]] std::optional<Tool> ground_tool(const job::Resin& resin,
                                              const Quantities& quantities);

/// Every tool and size that a dose of the sheet names, the test cup's too, each once for each
/// liquid, the finest first.
[[nodiscard]] std::vector<ToolUse> dose_tools(const job::Job& job, const Quantities& quantities);

/// "hardener", "hardener of the topcoat".
[[nodiscard]] const char* liquid_words(Liquid liquid);

}  // namespace tearline::quantities

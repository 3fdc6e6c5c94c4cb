#pragma once
#include <optional>
#include <vector>

#include "core/drawing/drawing.h"
#include "core/templates/template_set.h"

namespace tearline::drawing {

/// [mm] flattened rings nearer than this to each other are one ring on paper.
inline constexpr double rings_agree = 2.0;
/// [mm] lines of two plies on one sheet lie this far apart at least: their names stand between.
inline constexpr double lines_apart = 3.5;

/// The mat plies that one sheet of rings can serve.
struct RingSheet {
    std::vector<std::size_t> pieces;  ///< in TemplateSet::pieces
    double farthest_mm = 0.0;         ///< of any ply's net line from its ring of the grind guide
};

/// The farthest that a point of either loop set lies from the other [mm].
[[nodiscard]] double distance_between(const std::vector<Loop2>& a, const std::vector<Loop2>& b);

/// The mat plies whose net line, flattened on its own lay surface, agrees with its ring of the
/// flattened footprint: one sheet serves to grind by and to tear all of them by. The others, those
/// in several pieces and those with relief cuts keep templates of their own.
///
/// @return nothing where fewer than two mat plies agree within `rings_agree`
[[nodiscard]] std::optional<RingSheet> ring_sheet(const templates::TemplateSet& set);

/// All those plies on one sheet, each by its own net and tear line, with the polar table of all of
/// them where there is room inside.
[[nodiscard]] Drawing ring_sheet_drawing(const templates::TemplateSet& set, const RingSheet& sheet,
                                         bool mirrored);

}  // namespace tearline::drawing

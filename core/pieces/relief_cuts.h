#pragma once
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "core/base/outline.h"
#include "core/pieces/piece.h"

namespace tearline::pieces {

/// Relief cuts to try: chart lines, mouth first, from a little outside the outline inward.
using CutLines = std::vector<std::vector<Vec2>>;

/// Proposes relief cuts where a flat piece strains the most (DEFINITIONS.md, Mat).
///
/// Every triangle strained over a part of the limit asks the nearest place of the outline for help.
/// The mouths share what is asked of the outline evenly, from the place that asks the most;
/// each cut runs inward to the middle of the piece, or its spine where the piece is long.
class CutProposals {
public:
    /// @param plain         the piece laid flat without help; outlives the proposals
    /// @param strain_limit  [-] > 0
    CutProposals(const Piece& plain, double strain_limit);

    struct Wish {
        int count = 1;       ///< [-] > 0
        double depth = 0.5;  ///< [-] share of the way from the mouth to the spine
        double shift = 0.0;  ///< [-] of the way to the next mouth, moves all of them
    };
    /// The cuts of a wish; nothing where one has no sound end within reach or two come too near.
    /// @param sound_end  whether a cut may end at a place of the chart
    [[nodiscard]] std::optional<CutLines> cuts(
        const Wish& wish, const std::function<bool(const Vec2&)>& sound_end) const;

private:
    [[nodiscard]] Vec2 mouth(double share) const;
    [[nodiscard]] Vec2 spine(const Vec2& from) const;

    std::vector<Vec2> rim_;      ///< [mm] chart places of the outline
    std::vector<double> asked_;  ///< help asked for up to each place, summed up
    double peak_ = 0.0;          ///< [-] share of the help asked up to the peak
    Vec2 centre_{0, 0}, spine_{1, 0};
    double half_spine_ = 0.0;
};

/// The edge of a piece in the chart: outer loop counter-clockwise.
[[nodiscard]] Region2 chart_outline(const Piece& piece);

}  // namespace tearline::pieces

#pragma once
#include <string>
#include <vector>

#include "core/pieces/piece.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// A tape laid from the middle of the damage to a mark on the hull.
struct TapeWay {
    std::string mark;
    double length = 0.0;      ///< [mm] by tape
    double spacing = 1.0;     ///< [mm] between neighbours of `chart`
    std::vector<Vec2> chart;  ///< [mm] from the middle on, as far as the patch goes
};

/// Ticks where tapes to the marks run over a piece's edge, each with the distance from there to its
/// mark: cloth is put back in place by them. No tick for a tape that never lies on the piece.
[[nodiscard]] std::vector<Mark> tape_ticks(const pieces::Piece& piece,
                                           const std::vector<TapeWay>& ways);

}  // namespace tearline::templates

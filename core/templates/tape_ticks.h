#pragma once
#include <string>
#include <vector>

#include "core/base/units.h"
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

/// Adds ticks where tapes to the marks run over a piece's edge, each with how far its mark is from
/// there: cloth is put back in place by them. No tick for a tape that never lies on the piece.
void add_tape_ticks(const pieces::Piece& piece, const std::vector<TapeWay>& ways,
                    std::vector<Mark>& marks, Units units = Units::metric);

}  // namespace tearline::templates

#pragma once
#include <vector>

#include "core/pieces/piece.h"
#include "core/templates/mark.h"

namespace tearline::templates {

/// Marks the runs of a piece's net line that are joints of a ply that goes right round a tube.
///
/// @param joints  [mm] lines of the chart
/// @param marks   gets a Joint for each run
void add_joints(const pieces::Piece& piece, const std::vector<std::vector<Vec2>>& joints,
                std::vector<Mark>& marks);

}  // namespace tearline::templates

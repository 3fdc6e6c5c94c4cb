#pragma once
#include <vector>

#include "core/pieces/piece.h"
#include "core/surface/patch.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// Marks the runs of a net line that lie on the hull's own end: past them a torn band or a lap
/// hangs over the edge.
///
/// @param marks  gets a HullEnd for each run
void add_hull_ends(const pieces::Piece& piece, const surface::Patch& patch,
                   std::vector<Mark>& marks);

}  // namespace tearline::templates

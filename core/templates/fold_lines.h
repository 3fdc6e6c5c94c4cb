#pragma once
#include <string>
#include <vector>

#include "core/pieces/piece.h"
#include "core/templates/mark.h"

namespace tearline::templates {

/// A line that cloth is bent along before it is laid flat.
struct FoldRequest {
    std::vector<Vec2> chart;  ///< [mm] an edge of the piece's mesh wherever it crosses the piece
    std::string text;         ///< what is written beside it
};

/// Draws fold lines as far as they lie on a piece.
///
/// @param marks  gets a Fold for each
void add_folds(const pieces::Piece& piece, const std::vector<FoldRequest>& folds,
               std::vector<Mark>& marks);

}  // namespace tearline::templates

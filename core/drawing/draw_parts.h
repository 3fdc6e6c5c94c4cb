#pragma once
#include <string>
#include <vector>

#include "core/drawing/place_words.h"
#include "core/templates/template_set.h"

/// The parts that several drawings share.
namespace tearline::drawing {

void add_line(Drawing& drawing, Role role, std::vector<Vec2> points, bool closed = false);

/// [mm] from name to name along a line that is cut over pages: nearly every page of it has one.
inline constexpr double page_spacing = 130.0;

/// "TEAR", "CUT" or "NET": what the line is that a piece is parted along.
[[nodiscard]] std::string line_word(const templates::Template& outline);

/// The line that a piece is parted along and its net line, with their openings.
void add_edges(Drawing& drawing, const templates::Template& outline);

/// Writes along those lines what they are and of which piece, so that every page says so.
void name_edges(WordPlacer& placer, const templates::PieceTemplate& piece, bool mirrored);

/// The loops of a region.
void add_region(Drawing& drawing, Role edge, Role hole, const Region2& region);

/// A line with a head at its tip.
void add_arrow(Drawing& drawing, Role role, const Vec2& tail, const Vec2& tip);

/// The lines of a mark, and the text of a label; the words of the others are placed when all lines
/// are there.
void add_mark(Drawing& drawing, const templates::Mark& mark);

/// The words that a drawing puts beside a mark, the same in every format; none where the mark says
/// nothing, has its own place for words (a Label), or another mark says the same.
///
/// @param marks  all of the template, `mark` one of them
[[nodiscard]] std::string words_beside(const templates::Mark& mark,
                                       const std::vector<templates::Mark>& marks);

/// Places the words of marks, where the lines and the other words leave room.
///
/// @param on_pages  words along closed lines come again and again
void name_marks(WordPlacer& placer, const std::vector<templates::Mark>& marks, bool on_pages);

}  // namespace tearline::drawing

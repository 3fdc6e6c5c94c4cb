#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/drawing/drawing.h"

namespace tearline::drawing {

/// Where upright lines of text go on a piece.
struct WordsPlace {
    Vec2 low{0, 0};       ///< [mm] lower left corner of the block
    double height = 0.0;  ///< [mm] of a capital letter
    bool free = false;    ///< the block lies on the piece and on no line and no other word
};

/// The place nearest to the middle of a piece that holds some lines of text and crosses nothing, in
/// the largest of the letter heights that goes.
///
/// @param heights  [mm] largest first; without a free place the last, over the middle of the piece
[[nodiscard]] WordsPlace words_place(const Drawing& drawing, const std::vector<std::string>& lines,
                                     const std::vector<double>& heights);

/// The box of a size nearest to the middle of a region that lies in it and crosses nothing.
///
/// @return  with a margin of 1 mm round it
[[nodiscard]] std::optional<plane::Box> free_box(const Drawing& drawing, const Region2& inside,
                                                 const Vec2& size);

/// Adds lines of text under each other where words_place() finds room in a region, else below the
/// drawing.
///
/// @param widest  lines that there must be room for: those and what may take their place
void add_block(Drawing& drawing, const Region2& inside, const std::vector<std::string>& lines,
               const std::vector<std::string>& widest, const std::vector<double>& heights);

/// [mm] room for a line of text, in bold letters too.
[[nodiscard]] double words_width(const std::string& line, double height);

/// [-] from base line to base line by letter height
inline constexpr double words_pitch = 1.6;

}  // namespace tearline::drawing

#pragma once
#include <string>
#include <vector>

#include "core/base/text_room.h"
#include "core/plane/room.h"

namespace tearline::drawing {

/// What a line of a drawing is for; core/drawing/line_style.h has how it looks.
enum class Role {
    tear,       ///< outer edge to tear along
    cut,        ///< outer edge to cut along
    hole,       ///< edge of an opening inside, to cut along
    torn_hole,  ///< edge of an opening inside, to tear along
    net,        ///< edge of the full thickness
    next_edge,  ///< edge of the next smaller ply
    fold,       ///< along which cloth goes over the hull's end
    kerf,       ///< of a core plug: part way through, never cut out
    datum,      ///< cross at the middle of the damage
    arrow,      ///< bow, up, starboard
    fibre,      ///< roll direction
    tick,       ///< match tick
    notch,      ///< at a match tick: a point of the outer edge, and how far in it is slit
    drill,      ///< one point: a hole to drill
    relief,     ///< slit or dart
    ring,       ///< of the grind guide
    tape,       ///< to lay a tape along
    sketch,     ///< small drawing that explains, no line of the template
    frame,      ///< round a table or a text
};

/// Something to draw at full size as lines and words: every format is written from this, so that
/// all hold the same. x to the right, y up [mm].
struct Drawing {
    struct Line {
        Role role = Role::net;
        std::vector<Vec2> points;
        bool closed = false;
    };
    struct Text {
        Vec2 base{0, 0};  ///< middle of the base line, or its left end
        Vec2 up{0, 1};    ///< from it to the top of a capital letter
        std::string text;
        bool warning = false;
        bool bold = false;  ///< where its size alone does not make it so
        bool from_left = false;
        double width = 0.0;  ///< [mm] that it may take; 0: what its letters need
    };
    std::string name;       ///< "1A", "grind guide"
    std::string title;      ///< for file and block headings
    std::string fabric;     ///< none but for pieces
    std::string line_word;  ///< "TEAR", "CUT", or what else the lines are for
    std::vector<Line> lines;
    std::vector<Text> texts;
    /// Its reader sees the place on the hull as it stands on the page; a table may lie on its side.
    bool up_on_top = false;
    bool mirrored = false;
};

/// How the same thing is drawn for different uses.
struct Look {
    bool mirrored = false;  ///< turned over, and marked so
    /// For pages that are glued together: what a line is stands along it, so that every page says
    /// so, and the guide has lines to lay a tape along.
    bool on_pages = false;
};

/// Whether a blade goes along a line: outer edges, openings, slits.
[[nodiscard]] bool is_parted(Role role);

/// [mm] how wide words are.
[[nodiscard]] double width_of(const Drawing::Text& text);

/// The room that words of a drawing take, with some paper at both ends.
[[nodiscard]] TextBox box_of(const Drawing::Text& text);

/// What a drawing covers, words included [mm].
[[nodiscard]] plane::Box extent(const Drawing& drawing);

/// The drawing turned counter-clockwise about its origin, then moved.
[[nodiscard]] Drawing placed(Drawing drawing, double turn_degrees, const Vec2& move);

/// Turns a sheet over, once all is on it: what was seen from the laying side is seen from the
/// table. Words stay readable and say so.
///
/// @param say_it  with a word that says so: other words do not
void turn_over(Drawing& drawing, bool say_it);

/// Where each drawing goes when all stand in one row, left to right, without overlap: the vector to
/// move it by [mm]. Everything comes to lie in the first quadrant.
[[nodiscard]] std::vector<Vec2> row_places(const std::vector<Drawing>& drawings, double gap = 20.0);

}  // namespace tearline::drawing

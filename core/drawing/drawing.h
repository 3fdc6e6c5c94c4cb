#pragma once
#include <string>
#include <vector>

#include "core/plan/plan.h"
#include "core/plane/room.h"

namespace tearline::drawing {

/// What a line of a template is for; each format has its own way to show it.
enum class Role {
    tear,       ///< outer edge to tear along
    cut,        ///< outer edge to cut along
    hole,       ///< edge of an opening inside
    net,        ///< edge of the full thickness
    next_edge,  ///< edge of the next smaller ply
    datum,      ///< cross at the middle of the damage
    arrow,      ///< bow, up, starboard
    fibre,      ///< roll direction
    tick,       ///< match tick
    notch,      ///< at a match tick: a point of the outer edge, and how far in it is slit
    drill,      ///< one point: a hole to drill
    relief,     ///< slit or dart
    ring,       ///< of the grind guide
    sketch      ///< small drawing that explains, no line of the template
};

/// A template or the grind guide as strokes and words: every format is written from this, so that
/// all hold the same. x to the right, y up [mm].
struct Drawing {
    struct Line {
        Role role = Role::net;
        std::vector<Vec2> points;
        bool closed = false;
    };
    struct Text {
        Vec2 base{0, 0};  ///< middle of the base line
        Vec2 up{0, 1};    ///< from it to the top of a capital letter
        std::string text;
        bool warning = false;
    };
    std::string name;   ///< "1A", "grind-guide"
    std::string title;  ///< for file and block headings
    std::string fabric;
    std::vector<Line> lines;
    std::vector<Text> texts;
    bool mirrored = false;
};

[[nodiscard]] Drawing piece_drawing(const PlannedPly& ply, const PlannedPiece& piece, bool mirror);

[[nodiscard]] Drawing grind_guide_drawing(const Plan& plan, bool mirror);

/// Every template of a plan in the order of laying.
[[nodiscard]] std::vector<Drawing> piece_drawings(const Plan& plan, bool mirror);

/// What a drawing covers, words included [mm].
[[nodiscard]] plane::Box extent(const Drawing& drawing);

/// Whether a blade goes along a line: outer edges, openings, slits.
[[nodiscard]] bool is_parted(Role role);

/// Where each drawing goes when all stand in one row, left to right, without overlap: the vector to
/// move it by [mm]. Everything comes to lie in the first quadrant.
[[nodiscard]] std::vector<Vec2> row_places(const std::vector<Drawing>& drawings, double gap = 20.0);

}  // namespace tearline::drawing

#include "core/drawing/piece_drawing.h"

#include <algorithm>
#include <variant>

#include "core/drawing/draw_parts.h"

namespace tearline::drawing {

namespace {

using templates::Template;

/// Where the ray of a tick leaves the outer edge.
void add_notch(Drawing& drawing, const templates::Tick& tick, const Loop2& edge) {
    const Vec2& from = tick.inner;
    const Vec2 along = (tick.outer - from).normalized();
    double nearest = -1.0;
    for (std::size_t i = 0; i < edge.size(); ++i) {
        const Vec2 a = edge[i] - from, b = edge[(i + 1) % edge.size()] - from;
        const double side_a = cross2(along, a), side_b = cross2(along, b);
        if ((side_a > 0.0) == (side_b > 0.0)) continue;
        const double t = (a + side_a / (side_a - side_b) * (b - a)).dot(along);
        if (t > 0.0 && (nearest < 0.0 || t < nearest)) nearest = t;
    }
    if (!(nearest > 0.0)) return;
    // Into the torn or lapped band alone, never into the full ply.
    constexpr double deepest = 5.0, shallowest = 2.0;
    const double band = nearest - 0.5 * (tick.outer - from).norm();
    const double depth = std::clamp(0.5 * band, shallowest, deepest);
    add_line(drawing, Role::notch, {from + nearest * along, from + (nearest - depth) * along});
}

/// Whether a label names a line; on pages that is written along it with the piece's id.
bool names_line(const templates::Mark& mark) {
    const auto* label = std::get_if<templates::Label>(&mark);
    return label &&
           (label->text == "TEAR LINE" || label->text == "CUT LINE" || label->text == "NET LINE");
}

}  // namespace

Drawing piece_drawing(const templates::PieceTemplate& piece, const Look& look) {
    const Template& outline = piece.outline;
    Drawing drawing;
    drawing.name = piece.id;
    drawing.title = piece.ply > 0 ? "Ply " + std::to_string(piece.ply) + ", piece " + piece.id +
                                        ", " + piece.fabric
                                  : piece.id;
    drawing.fabric = piece.fabric;
    drawing.line_word = line_word(outline);
    drawing.up_on_top = true;
    add_edges(drawing, outline);
    for (const templates::Mark& mark : outline.marks) {
        if (look.on_pages && names_line(mark)) continue;
        add_mark(drawing, mark);
        if (const auto* tick = std::get_if<templates::Tick>(&mark))
            add_notch(drawing, *tick, outline.parting_region().outer);
    }
    for (const templates::ReliefCut& cut : outline.relief_cuts)
        add_line(drawing, Role::relief, cut.points);
    WordPlacer placer(drawing);
    name_marks(placer, outline.marks, look.on_pages);
    if (look.on_pages) name_edges(placer, piece, look.mirrored);
    if (look.mirrored) turn_over(drawing, !look.on_pages);
    return drawing;
}

}  // namespace tearline::drawing

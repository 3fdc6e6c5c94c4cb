#include "core/paper/draw_parts.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <variant>

#include "core/base/overloaded.h"

namespace tearline::paper {

namespace {

constexpr double head_length = 5.0;  // [mm] of arrows

double degrees(const Vec2& direction) {
    return std::atan2(direction.y(), direction.x()) * 180.0 / std::numbers::pi;
}

}  // namespace

void add_region(Drawing& drawing, const Region2& region, Pen pen) {
    drawing.strokes.push_back({region.outer, true, pen});
    for (const Loop2& hole : region.holes) drawing.strokes.push_back({hole, true, pen});
}

void add_arrow(Drawing& drawing, const Vec2& tail, const Vec2& tip) {
    const Vec2 along = tip - tail;
    if (!(along.norm() > 0.0)) return;
    const Vec2 way = along.normalized(), side = turned_left(way);
    const Vec2 back = tip - head_length * way;
    drawing.strokes.push_back({{tail, tip}, false, Pen::mark});
    drawing.strokes.push_back(
        {{back + 0.3 * head_length * side, tip, back - 0.3 * head_length * side},
         false,
         Pen::mark});
}

namespace {

/// A line of text of a template: the middle of its base line and the top of a capital above it.
void add_label(Drawing& drawing, const templates::Label& label) {
    // Here every line's name is written along it with the piece's id, so that each page has it.
    for (const char* named : {"TEAR LINE", "CUT LINE", "NET LINE"})
        if (label.text == named) return;
    if (!(label.up.norm() > 0.0)) return;
    Words words = words_at(label.base + 0.5 * label.up, label.up.norm() / capital_share, label.text,
                           degrees(label.up) - 90.0);
    words.bold = label.warning;
    drawing.words.push_back(std::move(words));
}

void add_strokes(Drawing& drawing, const std::vector<Vec2>& points, bool closed = false) {
    drawing.strokes.push_back({points, closed, Pen::mark});
}

}  // namespace

void add_mark(Drawing& drawing, const templates::Mark& mark) {
    std::visit(
        Overloaded{
            [&](const templates::Datum& datum) {
                for (const Vec2& arm : {Vec2(datum.arm, 0), Vec2(0, datum.arm)})
                    add_strokes(drawing, {datum.middle - arm, datum.middle + arm});
            },
            [&](const templates::Arrow& arrow) { add_arrow(drawing, arrow.tail, arrow.tip); },
            [&](const templates::Fibre& fibre) {
                add_arrow(drawing, fibre.from, fibre.to);
                add_arrow(drawing, fibre.to, fibre.from);
            },
            [&](const templates::Tick& tick) {
                add_strokes(drawing, {tick.inner, tick.outer});
            },
            [&](const templates::Tape& tape) {
                add_strokes(drawing, {tape.inner, tape.outer});
            },
            [&](const templates::BandSection& section) { add_strokes(drawing, section.line); },
            [&](const templates::PressFirst& press) { add_strokes(drawing, press.ring(), true); },
            [&](const templates::NextEdge& edge) {
                drawing.strokes.push_back({edge.line, edge.closed, Pen::next_edge});
            },
            [](const templates::HullEnd&) {},  // lies on the net line
            [&](const templates::Label& label) { add_label(drawing, label); },
        },
        mark);
}

}  // namespace tearline::paper

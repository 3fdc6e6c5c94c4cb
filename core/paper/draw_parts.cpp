#include "core/paper/draw_parts.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tearline::paper {

namespace {

constexpr double label_height = 4.0;  // [mm]
constexpr double head_length = 5.0;   // [mm] of arrows

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

Vec2 middle(const templates::Mark& mark) {
    Vec2 sum(0, 0);
    for (const Vec2& point : mark.points) sum += point;
    return sum / static_cast<double>(std::max<std::size_t>(1, mark.points.size()));
}

namespace {

/// A line of text of a template: the middle of its base line and the top of a capital above it.
void add_label(Drawing& drawing, const templates::Mark& mark) {
    // Here every line's name is written along it with the piece's id, so that each page has it.
    for (const char* named : {"TEAR LINE", "CUT LINE", "NET LINE"})
        if (mark.text == named) return;
    const Vec2 up = mark.points.size() > 1 ? Vec2(mark.points[1] - mark.points[0])
                                           : Vec2(0.0, label_height * capital_share);
    if (!(up.norm() > 0.0)) return;
    Words words = words_at(mark.points[0] + 0.5 * up, up.norm() / capital_share, mark.text,
                           degrees(up) - 90.0);
    words.bold = mark.kind == "warning";
    drawing.words.push_back(std::move(words));
}

bool is_arrow(const std::string& kind) {
    return kind == "bow" || kind == "up" || kind == "starboard" || kind == "fibre";
}

}  // namespace

void add_mark(Drawing& drawing, const templates::Mark& mark) {
    const auto& points = mark.points;
    if (points.empty()) return;
    if (is_arrow(mark.kind) && points.size() >= 2) {
        add_arrow(drawing, points.front(), points.back());
        if (mark.kind == "fibre") add_arrow(drawing, points.back(), points.front());
    } else if (mark.kind == "datum" && points.size() == 4) {
        drawing.strokes.push_back({{points[0], points[1]}, false, Pen::mark});
        drawing.strokes.push_back({{points[2], points[3]}, false, Pen::mark});
    } else if (mark.kind == "next_edge") {
        drawing.strokes.push_back({points, true, Pen::next_edge});
    } else if (mark.kind == "next_edge_part") {
        drawing.strokes.push_back({points, false, Pen::next_edge});
    } else if (mark.kind == "press_first") {
        drawing.strokes.push_back({points, true, Pen::mark});
    } else if (mark.kind == "label" || mark.kind == "warning") {
        add_label(drawing, mark);
    } else if (mark.kind != "hull_end") {  // that one lies on the net line
        drawing.strokes.push_back({points, false, Pen::mark});
    }
}

}  // namespace tearline::paper

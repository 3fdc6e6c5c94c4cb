#include "core/output/drawing.h"

#include <algorithm>
#include <cmath>

#include "core/output/words_on_piece.h"
#include "core/templates/label_template.h"

namespace tearline::output {

namespace {

using templates::Mark;

void add_line(Drawing& drawing, Role role, std::vector<Vec2> points, bool closed = false) {
    drawing.lines.push_back({role, std::move(points), closed});
}

void add_arrow(Drawing& drawing, Role role, const Vec2& tail, const Vec2& tip, bool two_heads) {
    const Vec2 along = (tip - tail).normalized();
    const double head = std::min(5.0, 0.35 * (tip - tail).norm());
    const auto add_head = [&](const Vec2& at, const Vec2& back) {
        const Vec2 aside = 0.4 * head * turned_left(back);
        add_line(drawing, role, {at + head * back + aside, at, at + head * back - aside});
    };
    add_line(drawing, role, {tail, tip});
    add_head(tip, -along);
    if (two_heads) add_head(tail, along);
}

/// A word beyond the tip of an arrow or beside a line, upright.
void add_word(Drawing& drawing, const Vec2& middle, const std::string& text, double height) {
    drawing.texts.push_back({middle - Vec2(0, 0.5 * height), Vec2(0, height), text, false});
}

void add_arrow_word(Drawing& drawing, const Mark& mark) {
    const Vec2 along = (mark.points[1] - mark.points[0]).normalized();
    const double half_width = 0.5 * templates::text_width(mark.text, 3.0);
    const double away = 2.0 + std::abs(along.x()) * half_width + std::abs(along.y()) * 1.5;
    add_word(drawing, mark.points[1] + away * along, mark.text, 3.0);
}

void add_fibre(Drawing& drawing, const Mark& mark) {
    add_arrow(drawing, Role::fibre, mark.points[0], mark.points[1], true);
    Vec2 along = (mark.points[1] - mark.points[0]).normalized();
    if (along.x() < 0.0) along = -along;
    const Vec2 up = turned_left(along);
    drawing.texts.push_back(
        {0.5 * (mark.points[0] + mark.points[1]) + 1.5 * up, 2.5 * up, mark.text, false});
}

/// Where the ray of a tick leaves the outer edge.
void add_notch(Drawing& drawing, const Mark& tick, const Loop2& edge) {
    const Vec2& from = tick.points[0];
    const Vec2 along = (tick.points[1] - from).normalized();
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
    const double band = nearest - 0.5 * (tick.points[1] - from).norm();
    const double depth = std::clamp(0.5 * band, shallowest, deepest);
    add_line(drawing, Role::notch, {from + nearest * along, from + (nearest - depth) * along});
}

void add_tick(Drawing& drawing, const Mark& mark) {
    add_line(drawing, Role::tick, mark.points);
    if (mark.text.empty()) return;
    const Vec2 along = (mark.points[1] - mark.points[0]).normalized();
    std::string word = mark.text;
    std::transform(word.begin(), word.end(), word.begin(),
                   [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    // A whole word, since a letter alone would look like the name of a mark on the hull.
    constexpr double height = 2.5, clear = 1.5;
    const double half = 0.5 * (std::abs(along.x()) * templates::text_width(word, height) +
                               std::abs(along.y()) * height);
    add_word(drawing, mark.points[0] - (clear + half) * along, word, height);
}

void add_mark(Drawing& drawing, const Mark& mark) {
    if (mark.kind == "datum") {
        add_line(drawing, Role::datum, {mark.points[0], mark.points[1]});
        add_line(drawing, Role::datum, {mark.points[2], mark.points[3]});
    } else if (mark.kind == "bow" || mark.kind == "up" || mark.kind == "starboard") {
        add_arrow(drawing, Role::arrow, mark.points[0], mark.points[1], false);
        add_arrow_word(drawing, mark);
    } else if (mark.kind == "fibre") {
        add_fibre(drawing, mark);
    } else if (mark.kind == "tick") {
        add_tick(drawing, mark);
    } else if (mark.kind == "tape") {
        add_line(drawing, Role::tick, mark.points);
    } else if (mark.kind == "press_first") {
        add_line(drawing, Role::datum, mark.points, true);
    } else if (mark.kind == "next_edge" || mark.kind == "next_edge_part") {
        add_line(drawing, Role::next_edge, mark.points, mark.kind == "next_edge");
    } else if (mark.kind == "label" || mark.kind == "warning") {
        drawing.texts.push_back(
            {mark.points[0], mark.points[1] - mark.points[0], mark.text, mark.kind == "warning"});
    }
}

void add_region(Drawing& drawing, Role edge, Role hole, const Region2& region) {
    add_line(drawing, edge, region.outer, true);
    for (const Loop2& loop : region.holes) add_line(drawing, hole, loop, true);
}

/// How far a straight word inside a ring must stand off it so that its ends keep clear.
double stand_off(const Loop2& loop, std::size_t at, const Vec2& outward, double half_width) {
    double deepest = 0.0;
    for (const Vec2& p : loop) {
        const Vec2 away = p - loop[at];
        if (away.norm() < half_width) deepest = std::max(deepest, -away.dot(outward));
    }
    return deepest;
}

/// Writes a word along a ring where the ring is straightest and no other word is near.
void add_ring_word(Drawing& drawing, const Loop2& loop, const std::string& text,
                   std::vector<Vec2>& taken) {
    constexpr double height = 2.5;
    const double half_width = 0.5 * templates::text_width(text, height);
    Drawing::Text best;
    double least = -1.0;
    for (std::size_t k = 0; k < 24; ++k) {
        const std::size_t i = k * loop.size() / 24;
        const Vec2 along = loop[(i + 1) % loop.size()] - loop[i];
        if (!(along.norm() > 0.0)) continue;
        const Vec2 outward = -turned_left(along).normalized();
        const double off = stand_off(loop, i, outward, half_width);
        double cost = off;
        // Past a corner of the ring, as at the hull's end, the word would stick out of it.
        const Vec2 middle = loop[i] - (off + 1.5 + 0.5 * height) * outward;
        for (const double end : {-half_width, half_width})
            if (!contains(loop, middle + end * turned_left(outward))) cost += 40.0;
        for (const Vec2& other : taken)
            cost += 40.0 * std::exp(-(other - loop[i]).norm() / half_width);
        for (const Drawing::Line& line : drawing.lines)
            if (line.role == Role::tick)
                cost += 40.0 * std::exp(-(line.points[0] - loop[i]).norm() / half_width);
        if (least >= 0.0 && cost >= least) continue;
        least = cost;
        const Vec2 up = outward.y() >= 0.0 ? outward : Vec2(-outward);
        best = {middle - 0.5 * height * up, height * up, text, false};
    }
    if (least < 0.0) return;
    taken.push_back(best.base);
    drawing.texts.push_back(best);
}

/// Turns the sheet over: what was seen from the laying side is seen from the table.
void turn_over(Drawing& drawing) {
    const auto flip = [](Vec2& p) { p.x() = -p.x(); };
    for (Drawing::Line& line : drawing.lines) {
        for (Vec2& p : line.points) flip(p);
        // Outer edges stay counter-clockwise and holes clockwise.
        if (line.closed) std::reverse(line.points.begin(), line.points.end());
    }
    for (Drawing::Text& text : drawing.texts) {
        flip(text.base);
        flip(text.up);
        if (text.text == "THIS FACE TOWARDS YOU") text.text = "MIRRORED: THIS FACE TO THE HULL";
    }
    drawing.mirrored = true;
    const WordsPlace place =
        words_place(drawing, {"MIRRORED"}, {12.0, 9.0, 7.0, 5.0, 4.0, 3.0, 2.5});
    const double half = 0.5 * words_width("MIRRORED", place.height);
    drawing.texts.push_back(
        {place.low + Vec2(half, 0.0), Vec2(0, place.height), "MIRRORED", false});
}

}  // namespace

Drawing piece_drawing(const PlannedPly& ply, const PlannedPiece& piece, bool mirror) {
    Drawing drawing;
    drawing.name = piece.piece.id;
    drawing.title =
        "Ply " + std::to_string(ply.number) + ", piece " + piece.piece.id + ", " + ply.fabric;
    drawing.fabric = ply.fabric;
    const templates::Template& outline = piece.outline;
    add_region(drawing, outline.tear ? Role::tear : Role::cut, Role::hole,
               outline.parting_region());
    if (outline.tear || outline.cut) add_region(drawing, Role::net, Role::net, outline.net);
    for (const Mark& mark : outline.marks) {
        add_mark(drawing, mark);
        if (mark.kind == "tick") add_notch(drawing, mark, outline.parting_region().outer);
    }
    for (const templates::ReliefCut& cut : outline.relief_cuts)
        add_line(drawing, Role::relief, cut.points);
    if (mirror) turn_over(drawing);
    return drawing;
}

Drawing grind_guide_drawing(const Plan& plan, bool mirror) {
    Drawing drawing;
    drawing.name = "grind-guide";
    drawing.title = "Grind guide";
    const templates::GrindGuide& guide = plan.grind_guide;
    if (guide.footprint.outer.empty()) return drawing;
    add_region(drawing, Role::cut, Role::hole, guide.footprint);
    for (const Mark& mark : guide.marks) add_mark(drawing, mark);
    std::vector<Vec2> taken;
    for (const templates::GrindGuide::Ring& ring : guide.rings) {
        for (const Loop2& loop : ring.loops)
            if (ring.ply != -2) add_line(drawing, Role::ring, loop, true);
        // On the ring itself, not on a sliver that the hull's end cuts off it.
        const auto longest = std::max_element(
            ring.loops.begin(), ring.loops.end(),
            [](const Loop2& a, const Loop2& b) { return perimeter(a) < perimeter(b); });
        if (longest != ring.loops.end()) add_ring_word(drawing, *longest, ring.text, taken);
    }
    if (mirror) turn_over(drawing);
    return drawing;
}

std::vector<Drawing> piece_drawings(const Plan& plan, bool mirror) {
    std::vector<Drawing> drawings;
    for (const PlannedPly& ply : plan.plies)
        for (const PlannedPiece& piece : ply.pieces)
            drawings.push_back(piece_drawing(ply, piece, mirror));
    return drawings;
}

bool is_parted(Role role) {
    return role == Role::tear || role == Role::cut || role == Role::hole || role == Role::relief;
}

templates::Box extent(const Drawing& drawing) {
    std::vector<Vec2> points;
    for (const Drawing::Line& line : drawing.lines)
        points.insert(points.end(), line.points.begin(), line.points.end());
    for (const Drawing::Text& text : drawing.texts) {
        const Vec2 half = -0.5 * templates::text_width(text.text, 1.0) * turned_left(text.up);
        for (const Vec2& p : {Vec2(text.base - half), Vec2(text.base + half)}) {
            points.push_back(p - 0.3 * text.up);
            points.push_back(p + text.up);
        }
    }
    return templates::box_round(points);
}

std::vector<Vec2> row_places(const std::vector<Drawing>& drawings, double gap) {
    std::vector<Vec2> places;
    double x = gap;
    for (const Drawing& drawing : drawings) {
        const templates::Box box = extent(drawing);
        places.emplace_back(x - box.low.x(), gap - box.low.y());
        x += box.high.x() - box.low.x() + gap;
    }
    return places;
}

}  // namespace tearline::output

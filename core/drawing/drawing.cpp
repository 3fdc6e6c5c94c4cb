#include "core/drawing/drawing.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "core/base/overloaded.h"
#include "core/base/sheet_words.h"
#include "core/base/text_room.h"
#include "core/drawing/place_words.h"
#include "core/drawing/words_on_piece.h"
#include "core/plane/comes_round.h"
#include "core/templates/mark_words.h"

namespace tearline::drawing {

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

void add_mark(Drawing& drawing, const Mark& mark) {
    std::visit(Overloaded{
                   [&](const templates::Datum& datum) {
                       for (const Vec2& arm : {Vec2(datum.arm, 0), Vec2(0, datum.arm)})
                           add_line(drawing, Role::datum, {datum.middle - arm, datum.middle + arm});
                   },
                   [&](const templates::Arrow& arrow) {
                       add_arrow(drawing, Role::arrow, arrow.tail, arrow.tip, false);
                   },
                   [&](const templates::Fibre& fibre) {
                       add_arrow(drawing, Role::fibre, fibre.from, fibre.to, true);
                   },
                   [&](const templates::Tick& tick) {
                       add_line(drawing, Role::tick, {tick.inner, tick.outer});
                   },
                   [&](const templates::Tape& tape) {
                       add_line(drawing, Role::tick, {tape.inner, tape.outer});
                   },
                   [&](const templates::BandSection& section) {
                       add_line(drawing, Role::sketch, section.line);
                   },
                   [&](const templates::PressFirst& press) {
                       add_line(drawing, Role::datum, press.ring(), true);
                   },
                   [&](const templates::NextEdge& edge) {
                       add_line(drawing, Role::next_edge, edge.line, edge.closed);
                   },
                   [](const templates::HullEnd&) {},  // lies on the net line, and has its words
                   [&](const templates::Label& label) {
                       drawing.texts.push_back({label.base, label.up, label.text, label.warning});
                   },
               },
               mark);
}

/// Where the words of a mark may stand.
std::vector<WordPlacer::Place> places_beside(const Mark& mark, const std::string& words) {
    using Places = std::vector<WordPlacer::Place>;
    return std::visit(
        Overloaded{
            [&](const templates::Tick& t) { return beside_tick(t.inner, t.outer, words); },
            [&](const templates::Tape& t) { return beside_tape(t.inner, t.outer, words); },
            [&](const templates::PressFirst& press) { return beside_ring(press.ring(), words); },
            [&](const templates::Fibre& f) { return beside_fibre(f.from, f.to, words); },
            [&](const templates::Arrow& a) { return beside_arrow(a.tail, a.tip, words); },
            [&](const templates::NextEdge& edge) {
                if (edge.closed) return beside_edge(edge.line, words);
                const auto part = templates::middle_part(edge.line);
                return beside_fibre(part[0], part[1], words);
            },
            [](const templates::Datum&) { return Places(); },
            [](const templates::BandSection&) { return Places(); },
            [](const templates::HullEnd&) { return Places(); },
            [](const templates::Label&) { return Places(); },
        },
        mark);
}

/// In which order marks get their words: those first that have the least choice.
int turn_of(const Mark& mark) {
    if (std::holds_alternative<templates::Tape>(mark)) return 0;
    if (std::holds_alternative<templates::Tick>(mark)) return 1;
    return std::holds_alternative<templates::NextEdge>(mark) ? 3 : 2;
}

/// The words of marks, where the lines and the other words leave room.
void add_words(WordPlacer& placer, const std::vector<Mark>& marks) {
    for (const int turn : {0, 1, 2, 3})
        for (const Mark& mark : marks) {
            if (turn_of(mark) != turn) continue;
            const std::string words = templates::words_beside(mark, marks);
            if (!words.empty()) placer.put(places_beside(mark, words));
        }
}

void add_region(Drawing& drawing, Role edge, Role hole, const Region2& region) {
    add_line(drawing, edge, region.outer, true);
    for (const Loop2& loop : region.holes) add_line(drawing, hole, loop, true);
}

/// Says which face a turned sheet shows, in the line that said it before: in letters as large as
/// stand clear there, and no wider than that line where nothing does.
void say_turned_face(Drawing& drawing) {
    const auto said =
        std::find_if(drawing.texts.begin(), drawing.texts.end(),
                     [](const Drawing::Text& text) { return text.text == face_words; });
    if (said == drawing.texts.end()) return;
    Drawing::Text face = *said;
    drawing.texts.erase(said);
    face.text = mirrored_face_words;
    const Vec2 up = face.up;
    std::vector<WordPlacer::Place> places;
    for (const double share :
         {1.0, 0.9, 0.8, letters_width(face_words) / letters_width(mirrored_face_words)}) {
        face.up = share * up;
        places.push_back({face, 1.0 - share});
    }
    WordPlacer(drawing).put(places);
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
    }
    say_turned_face(drawing);
    drawing.mirrored = true;
    const WordsPlace place =
        words_place(drawing, {"MIRRORED"}, {12.0, 9.0, 7.0, 5.0, 4.0, 3.0, 2.5});
    const double half = 0.5 * words_width("MIRRORED", place.height);
    drawing.texts.push_back(
        {place.low + Vec2(half, 0.0), Vec2(0, place.height), "MIRRORED", false});
}

/// Says what the guide is, of which job, and which face it shows: where it stands on nothing, else
/// below the guide.
void add_guide_words(Drawing& drawing, const Plan& plan, bool mirror) {
    const job::Job& job = plan.job;
    const std::vector<std::string> lines =
        guide_words(job.title.empty() ? job.file.stem().string() : job.title, plan.model_sha256);
    std::vector<std::string> widest = lines;
    if (mirror) widest.emplace_back(mirrored_face_words);
    constexpr double below = 4.0, least = 2.2;  // [mm]
    WordsPlace place = words_place(drawing, widest, {6.0, 5.0, 4.0, 3.5, 3.0, 2.5, least});
    double width = 0.0;
    for (const std::string& line : widest) width = std::max(width, words_width(line, place.height));
    if (!place.free) {
        const plane::Box all = extent(drawing);
        place.low = Vec2(
            0.5 * (all.low.x() + all.high.x() - width),
            all.low.y() - below - words_pitch * place.height * static_cast<double>(lines.size()));
    }
    Vec2 base = place.low + Vec2(0.5 * width, 0.0);
    base.y() += words_pitch * place.height * static_cast<double>(widest.size() - 1);
    for (const std::string& line : lines) {
        drawing.texts.push_back({base, Vec2(0, place.height), line, false});
        base.y() -= words_pitch * place.height;
    }
}

/// The leader line of a ring and its name at the end of it.
void add_led_name(Drawing& drawing, const templates::GrindGuide::Ring& ring) {
    if (ring.leader.empty()) return;
    add_line(drawing, Role::datum, ring.leader);
    const TextBox name = templates::led_name(ring);
    drawing.texts.push_back({name.middle - name.up, 2.0 * name.up, ring.text});
}

bool is_edge_of(const Region2& region, const Loop2& loop) {
    return loop == region.outer ||
           std::find(region.holes.begin(), region.holes.end(), loop) != region.holes.end();
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
        if (const auto* tick = std::get_if<templates::Tick>(&mark))
            add_notch(drawing, *tick, outline.parting_region().outer);
    }
    for (const templates::ReliefCut& cut : outline.relief_cuts)
        add_line(drawing, Role::relief, cut.points);
    WordPlacer placer(drawing);
    add_words(placer, outline.marks);
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
    for (const templates::GrindGuide::Ring& ring : guide.rings) {
        for (const Loop2& loop : ring.loops)
            if (!is_edge_of(guide.footprint, loop))
                add_line(drawing, Role::ring, loop, plane::comes_round(loop));
        add_led_name(drawing, ring);
    }
    WordPlacer placer(drawing);
    add_words(placer, guide.marks);
    for (const templates::GrindGuide::Ring& ring : guide.rings) {
        if (!ring.leader.empty()) continue;
        // On the ring itself, not on a sliver that the hull's end cuts off it.
        const auto longest = std::max_element(
            ring.loops.begin(), ring.loops.end(),
            [](const Loop2& a, const Loop2& b) { return perimeter(a) < perimeter(b); });
        if (longest != ring.loops.end()) placer.put(beside_edge(*longest, ring.text));
    }
    add_guide_words(drawing, plan, mirror);
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

plane::Box extent(const Drawing& drawing) {
    std::vector<Vec2> points;
    for (const Drawing::Line& line : drawing.lines)
        points.insert(points.end(), line.points.begin(), line.points.end());
    for (const Drawing::Text& text : drawing.texts) {
        const Vec2 half =
            -0.5 * text_width(text.text, text.up.norm()) * turned_left(text.up.normalized());
        for (const Vec2& p : {Vec2(text.base - half), Vec2(text.base + half)}) {
            points.push_back(p - 0.3 * text.up);
            points.push_back(p + text.up);
        }
    }
    return plane::box_round(points);
}

std::vector<Vec2> row_places(const std::vector<Drawing>& drawings, double gap) {
    std::vector<Vec2> places;
    double x = gap;
    for (const Drawing& drawing : drawings) {
        const plane::Box box = extent(drawing);
        places.emplace_back(x - box.low.x(), gap - box.low.y());
        x += box.high.x() - box.low.x() + gap;
    }
    return places;
}

}  // namespace tearline::drawing

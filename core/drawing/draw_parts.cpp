#include "core/drawing/draw_parts.h"

#include <algorithm>
#include <array>
#include <variant>

#include "core/base/overloaded.h"
#include "core/base/sheet_words.h"

namespace tearline::drawing {

namespace {

using templates::Mark;
using templates::Template;

void add_head(Drawing& drawing, Role role, const Vec2& tail, const Vec2& tip) {
    const Vec2 back = (tail - tip).normalized();
    const double head = std::min(5.0, 0.35 * (tip - tail).norm());
    const Vec2 aside = 0.4 * head * turned_left(back);
    add_line(drawing, role, {tip + head * back + aside, tip, tip + head * back - aside});
}

/// A part of a run of points, for words along it: a chord of about `length`, the whole run where
/// that is shorter [mm].
///
/// @param share  [-] of the run before its middle
std::array<Vec2, 2> part_of(const std::vector<Vec2>& run, double share = 0.5,
                            double length = 40.0) {
    double around = 0.0;
    for (std::size_t i = 1; i < run.size(); ++i) around += (run[i] - run[i - 1]).norm();
    const auto at = [&](double left) -> Vec2 {
        for (std::size_t i = 1; i < run.size(); ++i) {
            const double step = (run[i] - run[i - 1]).norm();
            if (step > 0.0 && left <= step) return run[i - 1] + left / step * (run[i] - run[i - 1]);
            left -= step;
        }
        return run.back();
    };
    const double half = 0.5 * std::min(length, around);
    const double middle = std::clamp(share * around, half, around - half);
    return {at(middle - half), at(middle + half)};
}

/// Anywhere along an open line: the ply's own words and marks stand about the middle.
std::vector<WordPlacer::Place> all_along(const std::vector<Vec2>& line, const std::string& words) {
    std::vector<WordPlacer::Place> places;
    for (const double share : {0.5, 0.25, 0.75, 0.35, 0.65, 0.15, 0.85}) {
        const auto part = part_of(line, share);
        for (auto& place : beside_fibre(part[0], part[1], words))
            places.push_back(std::move(place));
    }
    return places;
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
                return edge.closed ? beside_edge(edge.line, words) : all_along(edge.line, words);
            },
            [&](const templates::Fold& fold) { return all_along(fold.line, words); },
            [](const templates::Datum&) { return Places(); },
            [](const templates::BandSection&) { return Places(); },
            [](const templates::HullEnd&) { return Places(); },
            [](const templates::Joint&) { return Places(); },
            [](const templates::Kerf&) { return Places(); },
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

}  // namespace

void add_line(Drawing& drawing, Role role, std::vector<Vec2> points, bool closed) {
    drawing.lines.push_back({role, std::move(points), closed});
}

void add_region(Drawing& drawing, Role edge, Role hole, const Region2& region) {
    add_line(drawing, edge, region.outer, true);
    for (const Loop2& loop : region.holes) add_line(drawing, hole, loop, true);
}

void name_edges(WordPlacer& placer, const templates::PieceTemplate& piece, bool mirrored) {
    const Template& outline = piece.outline;
    const Region2& parting = outline.parting_region();
    const std::string words = line_word(outline) + "  " + piece.id + (mirrored ? "  MIRRORED" : "");
    placer.along(parting.outer, words, page_spacing);
    for (const Loop2& hole : parting.holes) placer.along(hole, words, page_spacing);
    // Cloth is cut along its net line, which has its name then.
    if (outline.net.outer != parting.outer)
        placer.along(outline.net.outer, "NET " + piece.id, 2.0 * page_spacing);
}

std::string line_word(const Template& outline) {
    return outline.tear ? "TEAR" : outline.cut ? "CUT" : "NET";
}

void add_edges(Drawing& drawing, const Template& outline) {
    // Where the cloth goes round a fitting it has no band to tear: the hole is its net line.
    const bool cut_out = outline.tear && outline.tear->holes == outline.net.holes;
    if (outline.tear)
        add_region(drawing, Role::tear, cut_out ? Role::hole : Role::torn_hole, *outline.tear);
    else
        add_region(drawing, Role::cut, Role::hole, outline.parting_region());
    if (outline.tear || outline.cut) add_region(drawing, Role::net, Role::net, outline.net);
}

void add_arrow(Drawing& drawing, Role role, const Vec2& tail, const Vec2& tip) {
    add_line(drawing, role, {tail, tip});
    add_head(drawing, role, tail, tip);
}

void add_mark(Drawing& drawing, const Mark& mark) {
    std::visit(Overloaded{
                   [&](const templates::Datum& datum) {
                       for (const Vec2& arm : {Vec2(datum.arm, 0), Vec2(0, datum.arm)})
                           add_line(drawing, Role::datum, {datum.middle - arm, datum.middle + arm});
                   },
                   [&](const templates::Arrow& arrow) {
                       add_arrow(drawing, Role::arrow, arrow.tail, arrow.tip);
                   },
                   [&](const templates::Fibre& fibre) {
                       add_arrow(drawing, Role::fibre, fibre.from, fibre.to);
                       add_head(drawing, Role::fibre, fibre.to, fibre.from);
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
                   [](const templates::Joint&) {},    // likewise
                   [&](const templates::Fold& fold) { add_line(drawing, Role::fold, fold.line); },
                   [&](const templates::Kerf& kerf) {
                       add_line(drawing, Role::kerf, {kerf.from, kerf.to});
                   },
                   [&](const templates::Label& label) {
                       drawing.texts.push_back({label.base, label.up, label.text, label.warning});
                   },
               },
               mark);
}

std::string words_beside(const Mark& mark, const std::vector<Mark>& marks) {
    using Words = std::string;
    return std::visit(
        Overloaded{
            [&](const templates::Tick& tick) {
                // A whole word, since a letter alone would look like the name of a mark on the
                // hull.
                const std::string word = in_capitals(tick.towards);
                const bool said = std::any_of(marks.begin(), marks.end(), [&](const Mark& other) {
                    const auto* arrow = std::get_if<templates::Arrow>(&other);
                    return arrow && arrow->text.find(word) != std::string::npos;
                });
                return said ? Words() : word;
            },
            [&](const templates::NextEdge& edge) {
                const auto first = std::find_if(marks.begin(), marks.end(), [&](const Mark& other) {
                    const auto* same = std::get_if<templates::NextEdge>(&other);
                    return same && same->closed == edge.closed;
                });
                return Words(first == marks.end() || &*first == &mark ? edge.words : "");
            },
            [](const templates::Arrow& arrow) { return arrow.text; },
            [](const templates::Tape& tape) { return tape.text; },
            [](const templates::Fibre& fibre) { return Words(fibre.words); },
            [](const templates::PressFirst& press) { return Words(press.words); },
            [](const templates::Fold& fold) { return fold.text; },
            [](const templates::Datum&) { return Words(); },
            [](const templates::BandSection&) { return Words(); },
            [](const templates::HullEnd&) { return Words(); },
            [](const templates::Joint&) { return Words(); },
            [](const templates::Kerf&) { return Words(); },  // the piece's own words say it
            [](const templates::Label&) { return Words(); },
        },
        mark);
}

void name_marks(WordPlacer& placer, const std::vector<Mark>& marks, bool on_pages) {
    constexpr double spacing = 400.0;  // [mm]
    for (const int turn : {0, 1, 2, 3})
        for (const Mark& mark : marks) {
            if (turn_of(mark) != turn) continue;
            const std::string words = words_beside(mark, marks);
            if (words.empty()) continue;
            const auto* edge = std::get_if<templates::NextEdge>(&mark);
            if (on_pages && edge && edge->closed)
                placer.along(edge->line, words, spacing);
            else  // a line may do without its name sooner than stand it on other words
                placer.put(places_beside(mark, words),
                           edge ? TextRoom::on_words : WordPlacer::anywhere);
        }
}

}  // namespace tearline::drawing

#include "core/paper/draw_plan.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/polar_table.h"
#include "core/base/sheet_words.h"
#include "core/paper/draw_parts.h"
#include "core/paper/place_words.h"
#include "core/plane/comes_round.h"
#include "core/templates/mark_words.h"

namespace tearline::paper {

namespace {

constexpr double word_spacing = 130.0;  // [mm] so that nearly every page of a line says what it is
constexpr double tape_overhang = 30.0;  // [mm] of tape lines beyond the footprint
constexpr double card_back = 46.0;      // [mm] least width of a section card
constexpr double card_gap = 6.0;        // [mm] between two cards
constexpr double card_figure = 3.6;     // [mm] height of a card's figures
constexpr double figure_pitch = 4.0;    // [mm] from figure to figure along a card
constexpr double row_height = 4.2;      // [mm] of tables and notes
constexpr int scarf_ring = -1;          // as templates::GrindGuide numbers it
constexpr double notes_width = 180.0;   // [mm] fits every paper

/// How far a loop reaches from the datum along a way: to the last place that the way crosses.
double reach_along(const Vec2& datum, const Vec2& way, const Loop2& loop) {
    double reach = 0.0;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const Vec2 a = loop[j] - datum, b = loop[i] - datum;
        const double side_a = cross2(way, a), side_b = cross2(way, b);
        if ((side_a > 0.0) == (side_b > 0.0)) continue;
        reach = std::max(reach, (a + side_a / (side_a - side_b) * (b - a)).dot(way));
    }
    return reach;
}

void add_datum_cross(Drawing& drawing, const Vec2& at) {
    for (const Vec2& arm : {Vec2(15.0, 0.0), Vec2(0.0, 15.0)})
        drawing.strokes.push_back({{at - arm, at + arm}, false, Pen::mark});
}

/// Height of a section's edge at a place, between its two nearest points.
std::optional<double> height_at(const std::vector<Vec2>& edge, double at) {
    const auto after = std::lower_bound(edge.begin(), edge.end(), at,
                                        [](const Vec2& point, double x) { return point.x() < x; });
    if (after == edge.begin() || after == edge.end()) return std::nullopt;
    const Vec2 &a = *(after - 1), &b = *after;
    return a.y() + (b.y() - a.y()) * (at - a.x()) / (b.x() - a.x());
}

/// The place on an edge that lies a length along it from the datum; nothing beyond its ends.
std::optional<double> place_along(const std::vector<Vec2>& edge, double length) {
    const auto zero = std::lower_bound(edge.begin(), edge.end(), 0.0,
                                       [](const Vec2& point, double x) { return point.x() < x; });
    if (zero == edge.end()) return std::nullopt;
    const bool onwards = length >= 0.0;
    double left = std::abs(length);
    Vec2 at(0.0, height_at(edge, 0.0).value_or(0.0));
    auto next = onwards ? zero : zero - (zero == edge.begin() ? 0 : 1);
    while (true) {
        const double step = (*next - at).norm();
        if (step >= left && step > 0.0) return at.x() + (next->x() - at.x()) * left / step;
        left -= step;
        at = *next;
        if (onwards ? next + 1 == edge.end() : next == edge.begin()) return std::nullopt;
        next += onwards ? 1 : -1;
    }
}

/// Whether a section shows a ring: the edge of the scarf, and what lies at a depth inside it. For
/// cover plies nothing is ground.
bool is_on_card(const templates::GrindGuide::Ring& ring) {
    constexpr double shown = 0.05;  // [mm] less is 0.0
    return ring.ply == scarf_ring || (ring.ply >= 0 && ring.depth_mm >= shown);
}

/// A place on a section card.
struct Depth {
    double at = 0.0;     ///< [mm] along the section's axis
    double depth = 0.0;  ///< [mm] of the dish, 0 where the scarf ends
};

/// Places of a section with the depth of the dish: where the guide's rings cross its axis. A
/// length on the flat guide is a length along the hull.
std::vector<Depth> depths_on(const templates::Section& section,
                             const templates::GrindGuide& guide) {
    const Vec2 datum = datum_of(guide.marks);
    const auto row = static_cast<std::size_t>(section.angle_degrees / 15.0);  // a row each 15
    std::vector<Depth> out;
    for (const auto& ring : guide.rings) {
        if (!is_on_card(ring)) continue;
        for (const Loop2& loop : ring.loops) {
            auto table = polar_table({loop, {}}, datum);
            std::erase_if(table, [](const PolarRow& each) { return each.corner; });
            for (const bool back : {false, true})
                for (const double radius : table[row + (back ? 12 : 0)].radii_mm)
                    if (const auto place = place_along(section.edge, back ? -radius : radius))
                        out.push_back({*place, ring.depth_mm});
        }
    }
    return out;
}

/// The depths of a card in their order along it, and where the figure of each stands [mm along].
struct FittingDepths {
    std::vector<Depth> depths;
    std::vector<double> places;
    std::size_t left_out = 0;  ///< tick and figure, where the card is too short for all
};

/// Depths with their figures pushed apart until none stands by a neighbour's tick, in the order of
/// the ticks. Of too many the one closest to its neighbours goes first, the scarf's end never.
FittingDepths fitting_depths(std::vector<Depth> depths, const templates::Section& section) {
    std::sort(depths.begin(), depths.end(),
              [](const Depth& a, const Depth& b) { return a.at < b.at; });
    FittingDepths out;
    const double low = section.edge.front().x() + figure_pitch;
    const double high = section.edge.back().x() - figure_pitch;
    while (figure_pitch * static_cast<double>(depths.size()) > high - low) {
        std::size_t least = depths.size();
        double room = 0.0;
        for (std::size_t i = 0; i < depths.size(); ++i) {
            if (!(depths[i].depth > 0.0)) continue;
            const double before = i > 0 ? depths[i - 1].at : low;
            const double after = i + 1 < depths.size() ? depths[i + 1].at : high;
            if (least < depths.size() && after - before >= room) continue;
            least = i;
            room = after - before;
        }
        if (least == depths.size()) break;
        depths.erase(depths.begin() + static_cast<std::ptrdiff_t>(least));
        ++out.left_out;
    }
    // Groups of figures that touch, each as near to the middle of its ticks as may be.
    struct Group {
        std::size_t count;
        double sum;  ///< [mm] of the places that its first figure would have, by each of its ticks
        [[nodiscard]] double first() const { return sum / static_cast<double>(count); }
    };
    std::vector<Group> groups;
    for (const Depth& depth : depths) {
        groups.push_back({1, depth.at});
        while (groups.size() > 1) {
            const Group last = groups.back(), before = groups[groups.size() - 2];
            const double shift = figure_pitch * static_cast<double>(before.count);
            if (last.first() >= before.first() + shift) break;
            groups.pop_back();
            groups.back() = {before.count + last.count,
                             before.sum + last.sum - shift * static_cast<double>(last.count)};
        }
    }
    for (const Group& group : groups)
        for (std::size_t i = 0; i < group.count; ++i)
            out.places.push_back(group.first() + figure_pitch * static_cast<double>(i));
    // None beyond the card's own ends.
    for (std::size_t i = 0; i < out.places.size(); ++i) {
        const auto before = static_cast<double>(i);
        const auto after = static_cast<double>(out.places.size() - 1 - i);
        out.places[i] = std::min(std::max(out.places[i], low + figure_pitch * before),
                                 high - figure_pitch * after);
    }
    out.depths = std::move(depths);
    return out;
}

/// A tick at each depth, and its figure at the end of a line from the tick.
void add_depths(Drawing& drawing, const templates::Section& section,
                const std::vector<Depth>& depths, const std::vector<double>& places, Units units) {
    constexpr double tick = 4.0, fan = 4.0, clear = 1.0;  // [mm]
    for (std::size_t i = 0; i < depths.size(); ++i) {
        const auto height = height_at(section.edge, depths[i].at);
        const auto there = height_at(section.edge, places[i]);
        if (!height || !there) continue;
        const Vec2 foot(depths[i].at, *height), end(places[i], *there + tick + fan);
        drawing.strokes.push_back({{foot, foot + Vec2(0.0, tick), end}, false, Pen::mark});
        Words figure = words_at(
            end, card_figure,
            depths[i].depth > 0.0 ? length_figure(depths[i].depth, 1, units) : "END", 90.0);
        figure.middle.y() += clear + 0.5 * figure.width;
        drawing.words.push_back(std::move(figure));
    }
}

/// At each end of a card, what it points to on the hull.
void add_card_ends(Drawing& drawing, const templates::Section& section, double top) {
    constexpr double height = 5.0, inset = 4.0, arrow = 12.0;
    for (const bool last : {false, true}) {
        const std::string& end = section.ends[last ? 1 : 0];
        if (end.empty()) continue;
        const double side = last ? 1.0 : -1.0;
        const Vec2 tip((last ? section.edge.back() : section.edge.front()).x() - side * inset,
                       top - 8.0);
        Words words = words_at({0, 0}, height, in_capitals(end));
        words.middle = tip - side * Vec2(arrow + 2.0 + 0.5 * words.width, 0.0);
        words.bold = true;
        drawing.words.push_back(std::move(words));
        add_arrow(drawing, tip - side * Vec2(arrow, 0.0), tip);
    }
}

/// One card: the hull's edge below, a straight back above, depths where they are known.
Drawing draw_card(const templates::Section& section, std::vector<Depth> depths, Units units) {
    Drawing drawing;
    double top = section.edge.front().y();
    for (const Vec2& point : section.edge) top = std::max(top, point.y());
    top += card_back;
    std::vector<Vec2> card = section.edge;
    card.emplace_back(section.edge.back().x(), top);
    card.emplace_back(section.edge.front().x(), top);
    drawing.strokes.push_back({card, true, Pen::cut});
    drawing.strokes.push_back({{{0.0, top}, {0.0, top - 8.0}}, false, Pen::mark});
    drawing.words.push_back(words_at({0.0, top - 11.0}, 3.6, "DATUM"));
    drawing.words.push_back(
        words_at({0.0, top - 16.5}, 4.0, "SECTION " + section.name + ": curved edge on the hull"));
    add_card_ends(drawing, section, top);
    const FittingDepths fit = fitting_depths(std::move(depths), section);
    if (!fit.depths.empty())
        drawing.words.push_back(words_at({0.0, top - 22.0}, 3.6,
                                         "numbers: depth of the dish below the edge, " +
                                             length_unit(units) + "; END: the scarf ends"));
    if (fit.left_out > 0)
        drawing.words.push_back(words_at(
            {0.0, top - 27.0}, 3.6,
            std::to_string(fit.left_out) + " depths have no room here: see the grind guide"));
    add_depths(drawing, section, fit.depths, fit.places, units);
    return drawing;
}

}  // namespace

Vec2 datum_of(const std::vector<templates::Mark>& marks) {
    return templates::datum_of(marks).value_or(Vec2(0, 0));
}

Drawing draw_piece(const PrintPiece& piece, bool mirrored) {
    Drawing drawing;
    drawing.id = piece.id;
    drawing.lie = Lie::up_on_top;
    const templates::Template& outline = piece.outline;
    const bool torn = outline.tear.has_value();
    drawing.line_word = torn ? "TEAR" : outline.cut ? "CUT" : "NET";
    const Region2& parting = outline.parting_region();
    add_region(drawing, parting, torn ? Pen::tear : Pen::cut);
    if (torn || outline.cut) add_region(drawing, outline.net, Pen::net);
    for (const templates::ReliefCut& cut : outline.relief_cuts)
        drawing.strokes.push_back({cut.points, false, Pen::relief});
    for (const templates::Mark& mark : outline.marks) add_mark(drawing, mark);

    WordPlacer placer(drawing);
    placer.name_marks(outline.marks);
    const std::string words = drawing.line_word + "  " + piece.id + (mirrored ? "  MIRRORED" : "");
    placer.along(parting.outer, words, word_spacing);
    for (const Loop2& hole : parting.holes) placer.along(hole, words, word_spacing);
    // Cloth is cut along its net line, which has its name then.
    if (outline.net.outer != parting.outer)
        placer.along(outline.net.outer, "NET " + piece.id, 2.0 * word_spacing);
    return drawing;
}

namespace {

/// A line of the guide with all that it is.
struct NamedLoop {
    Loop2 loop;
    Pen pen;
    std::string words;
    bool drawn = false;  ///< already, as the footprint's edge
};

bool is_edge_of(const Region2& region, const Loop2& loop) {
    return loop == region.outer ||
           std::find(region.holes.begin(), region.holes.end(), loop) != region.holes.end();
}

/// The leader lines of rings that stand too close for names beside them, each with its name.
void add_led_names(Drawing& drawing, const templates::GrindGuide& guide) {
    for (const auto& ring : guide.rings) {
        if (ring.leader.empty()) continue;
        drawing.strokes.push_back({ring.leader, false, Pen::mark});
        const TextBox name = templates::led_name(ring);
        Words words = words_at(name.middle, 2.0 * name.up.norm() / capital_share, ring.text);
        words.width = 2.0 * name.along.norm();
        drawing.words.push_back(std::move(words));
    }
}

/// The rings with lines that lie on each other told once: the last ply of a stack ends on the
/// scarf's edge.
std::vector<NamedLoop> named_lines(const templates::GrindGuide& guide) {
    std::vector<NamedLoop> lines;
    for (const auto& ring : guide.rings)
        for (const Loop2& loop : ring.loops) {
            const std::string name = ring.leader.empty() ? ring.text : "";
            const auto same = std::find_if(lines.begin(), lines.end(), [&](const NamedLoop& line) {
                return line.loop == loop;
            });
            if (same != lines.end())
                same->words += (same->words.empty() || name.empty() ? "" : " = ") + name;
            else
                lines.push_back({loop, ring.ply == 0 ? Pen::net : Pen::ring, name,
                                 is_edge_of(guide.footprint, loop)});
        }
    return lines;
}

/// A line to lay a tape along, through the datum and out beyond the footprint. What it points to
/// stands beside its arrow.
struct TapeLine {
    Vec2 from, to;
};

/// Along the arrows of the guide: bow and up, on a transom starboard.
std::vector<TapeLine> tape_lines(const templates::GrindGuide& guide, const Vec2& datum) {
    std::vector<TapeLine> lines;
    const auto add = [&](const Vec2& way) {
        const auto end = [&](const Vec2& out) -> Vec2 {
            return datum + (reach_along(datum, out, guide.footprint.outer) + tape_overhang) * out;
        };
        lines.push_back({end(-way), end(way)});
    };
    for (const templates::Mark& mark : guide.marks) {
        const auto* arrow = std::get_if<templates::Arrow>(&mark);
        // Of two arrows that are one the first is named for both.
        if (!arrow || arrow->text.empty()) continue;
        add((arrow->tip - arrow->tail).normalized());
    }
    return lines;
}

/// What the guide is, of which job and which face it shows, where that stands on nothing; else
/// below the guide.
void add_guide_words(Drawing& drawing, const PrintPlan& plan, const Vec2& datum) {
    const std::vector<std::string> lines = guide_words(plan.title, plan.job_id);
    const WordPlacer placer(drawing);
    constexpr double pitch = 1.4, margin = 2.0, least = 2.6;  // [-], [mm], [mm]
    for (const double height : {7.0, 6.0, 5.0, 4.0, 3.2, least}) {
        // Mirrored sheets say more in the same box: the painter squeezes that.
        Vec2 size(0.0, pitch * height * static_cast<double>(lines.size()));
        for (const std::string& line : lines)
            size.x() = std::max(size.x(), words_at({0, 0}, height, line).width);
        size += Vec2(2.0 * margin, 2.0 * margin);
        std::optional<Vec2> low = placer.free_place(plan.guide.footprint, size, datum);
        if (!low && height > least) continue;
        const Box all = bounds(drawing);
        const Vec2 below(0.5 * (all.low.x() + all.high.x() - size.x()), all.low.y() - size.y());
        Vec2 middle = low.value_or(below) + Vec2(0.5 * size.x(), size.y() - margin);
        for (const std::string& line : lines) {
            middle.y() -= 0.5 * pitch * height;
            drawing.words.push_back(words_at(middle, height, line));
            middle.y() -= 0.5 * pitch * height;
        }
        return;
    }
}

}  // namespace

Drawing draw_grind_guide(const PrintPlan& plan) {
    const templates::GrindGuide& guide = plan.guide;
    Drawing drawing;
    drawing.id = "grind guide";
    drawing.lie = Lie::up_on_top;
    drawing.line_word = "GRIND";
    add_region(drawing, guide.footprint, Pen::cut);
    const std::vector<NamedLoop> lines = named_lines(guide);
    for (const NamedLoop& line : lines)
        if (!line.drawn)
            drawing.strokes.push_back({line.loop, plane::comes_round(line.loop), line.pen});
    for (const templates::Mark& mark : guide.marks) add_mark(drawing, mark);
    const Vec2 datum = datum_of(guide.marks);
    add_led_names(drawing, guide);
    add_datum_cross(drawing, datum);
    const std::vector<TapeLine> tapes = tape_lines(guide, datum);
    for (const TapeLine& tape : tapes) add_arrow(drawing, tape.from, tape.to);

    WordPlacer placer(drawing);
    placer.name_marks(guide.marks);
    for (const TapeLine& tape : tapes)
        for (const Vec2& end : {tape.from, tape.to}) placer.along_end(datum, end, "TAPE");
    for (const NamedLoop& line : lines)
        if (!line.words.empty()) placer.along(line.loop, line.words, 2.0 * word_spacing);
    add_guide_words(drawing, plan, datum);
    return drawing;
}

Drawing draw_sections(const std::vector<templates::Section>& sections,
                      const templates::GrindGuide& guide, Units units) {
    Drawing drawing;
    drawing.id = "section cards";
    drawing.lie = Lie::up_on_top;  // their figures are read at the hull
    drawing.line_word = "CUT";
    double below = 0.0;
    for (const templates::Section& section : sections) {
        Drawing card = draw_card(section, depths_on(section, guide), units);
        const Box box = bounds(card);
        card = placed(card, 0.0, {0.0, below - box.high.y()});
        below -= box.size().y() + card_gap;
        drawing.strokes.insert(drawing.strokes.end(), card.strokes.begin(), card.strokes.end());
        drawing.words.insert(drawing.words.end(), card.words.begin(), card.words.end());
    }
    return drawing;
}

Drawing draw_polar_table(const PrintPiece& piece, const std::array<std::string, 4>& ends,
                         Units units) {
    const Vec2 datum = datum_of(piece.outline.marks);
    const auto net = polar_table(piece.outline.net, datum);
    const bool both = piece.outline.tear || piece.outline.cut;
    const auto parting = both ? polar_table(piece.outline.parting_region(), datum) : net;
    const std::string word = piece.outline.tear ? "tear" : piece.outline.cut ? "cut" : "net";
    Drawing drawing;
    drawing.id = "polar " + piece.id;
    drawing.line_word = "TABLE";
    drawing.lie = Lie::right_angles;
    double y = 0.0;
    const auto line = [&](double x, const std::string& text) {
        Words words = words_at({0.0, y}, 0.8 * row_height, text);
        words.middle.x() = x + words.width / 2.0;
        words.from_left = true;
        drawing.words.push_back(std::move(words));
    };
    const char* between = units == Units::metric ? " / " : ", ";  // fractions have strokes
    const auto radii = [&](const PolarRow& row) {
        std::string text;
        for (const double radius : row.radii_mm)
            text += (text.empty() ? "" : between) + length_figure(radius, 1, units);
        return text.empty() ? std::string("-") : text;
    };
    line(0.0, "Piece " + piece.id + " from the datum, " + length_unit(units));
    drawing.words.back().bold = true;
    y -= 1.3 * row_height;
    line(0.0, "angles counter-clockwise from the right: " + quarter_words(ends));
    drawing.words.back().bold = true;
    y -= 1.3 * row_height;
    const auto rows = [&](const std::vector<PolarRow>& table, double left,
                          const std::string& name) {
        const double top = y;
        line(left, name + " line");
        for (const PolarRow& row : table) {
            y -= row_height;
            line(left, fixed(row.angle_degrees, row.corner ? 1 : 0) + "\u00b0" +
                           (row.corner ? " corner" : ""));
            line(left + 26.0, radii(row));
        }
        const double bottom = y;
        y = top;
        return bottom;
    };
    double bottom = rows(net, 0.0, "net");
    if (both) bottom = std::min(bottom, rows(parting, 60.0, word));
    const double right = bounds(drawing).high.x();
    drawing.strokes.push_back({{{-2.0, bottom - 3.0},
                                {right + 2.0, bottom - 3.0},
                                {right + 2.0, row_height},
                                {-2.0, row_height}},
                               true,
                               Pen::mark});
    return drawing;
}

Drawing draw_notes(const PrintPlan& plan, const std::vector<std::string>& lines) {
    Drawing drawing;
    drawing.id = "notes";
    drawing.line_word = "READ FIRST";
    drawing.lie = Lie::right_angles;
    double y = 0.0;
    const auto line = [&](const std::string& text, double height, bool bold) {
        Words words = words_at({0.0, y}, height, text);
        words.width = std::min(words.width, notes_width);
        words.middle.x() = words.width / 2.0;
        words.from_left = true;
        words.bold = bold;
        drawing.words.push_back(std::move(words));
        y -= 1.4 * height;
    };
    line(plan.title.empty() ? plan.model : plan.title, 6.0, true);
    for (const std::string& text : lines) line(text, 3.6, false);
    drawing.strokes.push_back(
        {{{-3.0, y}, {notes_width, y}, {notes_width, 6.0}, {-3.0, 6.0}}, true, Pen::mark});
    return drawing;
}

}  // namespace tearline::paper

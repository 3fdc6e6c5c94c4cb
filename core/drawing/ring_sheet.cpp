#include "core/drawing/ring_sheet.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <variant>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/drawing/draw_parts.h"
#include "core/drawing/words_on_piece.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/polar_table.h"

namespace tearline::drawing {

namespace {

using templates::PieceTemplate;

double to_loops(const Vec2& point, const std::vector<Loop2>& loops) {
    double nearest = std::numeric_limits<double>::infinity();
    for (const Loop2& loop : loops)
        nearest = std::min(nearest, plane::distance_to_loop(loop, point));
    return nearest;
}

std::vector<Loop2> loops_of(const Region2& region) {
    std::vector<Loop2> loops{region.outer};
    loops.insert(loops.end(), region.holes.begin(), region.holes.end());
    return loops;
}

/// Rows of a table with their first column apart.
struct Table {
    std::vector<std::string> headings;
    std::map<double, std::vector<std::string>> rows;  ///< by angle [deg], a cell a heading
};

/// Where the rays of a table meet a net line, a corner's own row with that of its direction: by
/// angle [deg], nearest first [mm].
std::map<double, std::vector<double>> radii_by_angle(const Region2& net, const Vec2& datum) {
    constexpr double same = 0.05;  // [mm] a figure less
    std::map<double, std::vector<double>> out;
    for (const plane::PolarRow& row : plane::polar_table(net, datum)) {
        std::vector<double>& radii = out[row.angle_degrees];
        for (const double radius : row.radii_mm)
            if (std::none_of(radii.begin(), radii.end(),
                             [&](double other) { return std::abs(other - radius) < same; }))
                radii.push_back(radius);
        std::sort(radii.begin(), radii.end());
    }
    return out;
}

/// The net lines of the pieces by their distance from the datum: every 15 degrees, and where one
/// of them has a corner.
Table polar_columns(const std::vector<const PieceTemplate*>& pieces, const Vec2& datum,
                    Units units) {
    const char* between = units == Units::metric ? "/" : ", ";  // fractions have strokes
    Table table;
    for (std::size_t column = 0; column < pieces.size(); ++column) {
        table.headings.push_back("net " + pieces[column]->id);
        for (const auto& [angle, radii] : radii_by_angle(pieces[column]->outline.net, datum)) {
            std::string text;
            for (const double radius : radii)
                text += (text.empty() ? "" : between) + length_figure(radius, 1, units);
            auto& cells = table.rows[angle];
            cells.resize(pieces.size());
            cells[column] = text;
        }
    }
    return table;
}

/// [-] of the widest cell or heading, by the height of its letters
double widest_cell(const Table& table) {
    double widest = 0.0;
    for (const std::string& heading : table.headings)
        widest = std::max(widest, letters_width(heading));
    for (const auto& [angle, cells] : table.rows)
        for (const std::string& cell : cells) widest = std::max(widest, letters_width(cell));
    return widest;
}

/// Puts the table where the smallest ring leaves room, in letters as large as that allows.
void add_table(Drawing& drawing, const Table& table, const Loop2& inside, const std::string& up,
               Units units) {
    for (const double pitch : {4.2, 3.6, 3.0}) {  // [mm] from row to row
        const double margin = 1.0, letters = 0.47 * pitch;
        const double column = std::max(4.6 * pitch, letters * (widest_cell(table) + 1.0));
        const double rows = static_cast<double>(table.rows.size()) + 2.3;
        const double columns = static_cast<double>(table.headings.size()) + 1.0;
        const Vec2 size(std::max(column * columns, 26.0 * pitch) + 2.0 * margin,
                        pitch * rows + 2.0 * margin);
        const auto box = free_box(drawing, {inside, {}}, size);
        if (!box) continue;
        Vec2 at(box->low.x() + 2.0 * margin, box->high.y() - 2.0 * margin - pitch);
        const auto cell = [&](double along, const std::string& text) {
            Drawing::Text words{at + Vec2(along, 0.0), Vec2(0.0, letters), text};
            words.from_left = true;
            drawing.texts.push_back(std::move(words));
        };
        cell(0.0, length_unit(units) + " from the datum; 90\u00b0 is " + up + ", left round");
        at.y() -= 1.3 * pitch;
        for (std::size_t k = 0; k < table.headings.size(); ++k)
            cell(column * static_cast<double>(k + 1), table.headings[k]);
        for (const auto& [angle, cells] : table.rows) {
            at.y() -= pitch;
            cell(0.0, shortest(std::round(10.0 * angle) / 10.0) + "\u00b0");
            for (std::size_t k = 0; k < cells.size(); ++k)
                if (!cells[k].empty()) cell(column * static_cast<double>(k + 1), cells[k]);
        }
        const Vec2 &low = box->low, &high = box->high;
        add_line(drawing, Role::frame, {low, {high.x(), low.y()}, high, {low.x(), high.y()}}, true);
        return;
    }
}

bool larger(const PieceTemplate* a, const PieceTemplate* b) {
    return area(a->outline.net) > area(b->outline.net);
}

}  // namespace

double distance_between(const std::vector<Loop2>& a, const std::vector<Loop2>& b) {
    double farthest = 0.0;
    for (const Loop2& loop : a)
        for (const Vec2& point : loop) farthest = std::max(farthest, to_loops(point, b));
    for (const Loop2& loop : b)
        for (const Vec2& point : loop) farthest = std::max(farthest, to_loops(point, a));
    return farthest;
}

namespace {

std::vector<Loop2> lines_of(const PieceTemplate& piece) {
    std::vector<Loop2> lines = loops_of(piece.outline.net);
    const std::vector<Loop2> outer = loops_of(piece.outline.parting_region());
    lines.insert(lines.end(), outer.begin(), outer.end());
    return lines;
}

/// Whether a piece has a line so near to one that stands on the sheet already that no word goes
/// between.
bool crowds(const templates::TemplateSet& set, const RingSheet& sheet, const PieceTemplate& piece) {
    const std::vector<Loop2> own = lines_of(piece);
    for (const std::size_t other : sheet.pieces) {
        const std::vector<Loop2> lines = lines_of(set.pieces[other]);
        for (const Loop2& loop : own)
            for (const Vec2& point : loop)
                if (to_loops(point, lines) < lines_apart) return true;
    }
    return false;
}

}  // namespace

std::optional<RingSheet> ring_sheet(const templates::TemplateSet& set) {
    std::map<int, const templates::GrindGuide::Ring*> rings;
    for (const auto& ring : set.guide.rings)
        if (ring.ply > 0) rings[ring.ply] = &ring;
    std::map<int, int> pieces_of_ply;
    for (const PieceTemplate& piece : set.pieces) ++pieces_of_ply[piece.ply];
    RingSheet sheet;
    for (std::size_t i = 0; i < set.pieces.size(); ++i) {
        const PieceTemplate& piece = set.pieces[i];
        const auto ring = rings.find(piece.ply);
        if (!piece.mat || ring == rings.end() || pieces_of_ply[piece.ply] > 1 ||
            !piece.outline.relief_cuts.empty())
            continue;
        const double off = distance_between(loops_of(piece.outline.net), ring->second->loops);
        if (!(off <= rings_agree) || crowds(set, sheet, piece)) continue;
        sheet.farthest_mm = std::max(sheet.farthest_mm, off);
        sheet.pieces.push_back(i);
    }
    if (sheet.pieces.size() < 2) return std::nullopt;
    return sheet;
}

Drawing ring_sheet_drawing(const templates::TemplateSet& set, const RingSheet& sheet,
                           bool mirrored) {
    Drawing drawing;
    drawing.name = templates::name_in(set, "ring sheet");
    drawing.up_on_top = true;
    drawing.line_word = "TEAR";
    std::vector<const PieceTemplate*> pieces;
    std::string ids;
    for (const std::size_t index : sheet.pieces) {
        pieces.push_back(&set.pieces[index]);
        ids += (ids.empty() ? "" : " ") + pieces.back()->id;
        add_edges(drawing, pieces.back()->outline);
    }
    std::vector<templates::Mark> marks;
    for (const templates::Mark& mark : pieces.front()->outline.marks)
        if (std::holds_alternative<templates::Datum>(mark) ||
            std::holds_alternative<templates::Arrow>(mark))
            marks.push_back(mark);
    for (const templates::Mark& mark : marks) add_mark(drawing, mark);
    {
        WordPlacer placer(drawing);
        name_marks(placer, marks, true);
    }
    const auto [largest, smallest] = std::minmax_element(pieces.begin(), pieces.end(), larger);
    // Of a mirrored sheet there is no table: it is taken on the hull, face towards you.
    if (!mirrored) {
        const Vec2 datum = templates::datum_of(marks).value_or(Vec2(0, 0));
        add_table(drawing, polar_columns(pieces, datum, set.units), (*smallest)->outline.net.outer,
                  set.ends[1].empty() ? "the top" : set.ends[1], set.units);
    }
    const std::vector<std::string> lines = {
        "ONE SHEET FOR " + ids,
        "their rings agree within " + length_text(sheet.farthest_mm, 1, set.units) +
            "; each has its own lines",
        "tear the largest first, then cut the sheet down to the next"};
    add_block(drawing, (*largest)->outline.parting_region(), lines, lines, {2.3, 2.0, 1.7});
    WordPlacer placer(drawing);
    for (const PieceTemplate* piece : pieces) name_edges(placer, *piece, mirrored);
    if (mirrored) turn_over(drawing, false);
    return drawing;
}

}  // namespace tearline::drawing

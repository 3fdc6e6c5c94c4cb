#include <algorithm>
#include <map>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/polar_table.h"
#include "core/paper/draw_parts.h"
#include "core/paper/draw_plan.h"
#include "core/paper/place_words.h"

namespace tearline::paper {

namespace {

constexpr double word_spacing = 130.0;  // [mm]

/// Rows of a table with their first column apart.
struct Table {
    std::vector<std::string> headings;
    std::map<double, std::vector<std::string>> rows;  ///< by angle [deg], a cell a heading
};

/// The net lines of the pieces by their distance from the datum: every 15 degrees, and where one
/// of them has a corner.
Table polar_columns(const std::vector<const PrintPiece*>& pieces, const Vec2& datum, Units units) {
    const char* between = units == Units::metric ? "/" : ", ";  // fractions have strokes
    Table table;
    for (std::size_t column = 0; column < pieces.size(); ++column) {
        table.headings.push_back("net " + pieces[column]->id);
        for (const PolarRow& row : polar_table(pieces[column]->outline.net, datum)) {
            std::string text;
            for (const double radius : row.radii_mm)
                text += (text.empty() ? "" : between) + length_figure(radius, 1, units);
            auto& cells = table.rows[row.angle_degrees];
            cells.resize(pieces.size());
            cells[column] = text;
        }
    }
    return table;
}

/// Puts the table where the smallest ring leaves room, in letters as large as that allows.
void add_table(Drawing& drawing, const Table& table, const Loop2& inside, const Vec2& datum,
               const std::string& up, Units units) {
    const WordPlacer placer(drawing);
    for (const double row_height : {4.2, 3.6, 3.0}) {
        const double column = 4.6 * row_height, margin = 2.0;
        const double rows = static_cast<double>(table.rows.size()) + 2.3;
        const double columns = static_cast<double>(table.headings.size()) + 1.0;
        const Vec2 size(std::max(column * columns, 26.0 * row_height) + 2.0 * margin,
                        row_height * rows + 2.0 * margin);
        const auto low = placer.free_place({inside, {}}, size, datum);
        if (!low) continue;
        double y = low->y() + size.y() - margin - 0.5 * row_height;
        const auto cell = [&](double at, const std::string& text) {
            Words words = words_at({0.0, y}, 0.8 * row_height, text);
            words.middle.x() = low->x() + margin + at + 0.5 * words.width;
            words.from_left = true;
            drawing.words.push_back(std::move(words));
        };
        cell(0.0, length_unit(units) + " from the datum; 90\u00b0 is " + up + ", left round");
        y -= 1.3 * row_height;
        for (std::size_t k = 0; k < table.headings.size(); ++k)
            cell(column * static_cast<double>(k + 1), table.headings[k]);
        for (const auto& [angle, cells] : table.rows) {
            y -= row_height;
            cell(0.0, shortest(std::round(10.0 * angle) / 10.0) + "\u00b0");
            for (std::size_t k = 0; k < cells.size(); ++k)
                if (!cells[k].empty()) cell(column * static_cast<double>(k + 1), cells[k]);
        }
        drawing.strokes.push_back(
            {{*low, *low + Vec2(size.x(), 0.0), *low + size, *low + Vec2(0.0, size.y())},
             true,
             Pen::mark});
        return;
    }
}

/// Lines of text under each other, where they stand on the least near the datum.
void add_block(Drawing& drawing, const std::vector<Words>& lines, const Vec2& datum) {
    const WordPlacer placer(drawing);
    const Box all = bounds(drawing);
    std::vector<Vec2> shifts = {{0.0, all.low.y() - datum.y() - 8.0},
                                {0.0, all.high.y() - datum.y() + 18.0}};
    for (double away = 24.0; away < 90.0; away += 6.0)
        for (const double aside : {0.0, -50.0, 50.0}) {
            shifts.emplace_back(aside, -away);
            shifts.emplace_back(aside, away + 11.0);
        }
    Vec2 best(0, 0);
    double least = 1e300;
    for (const Vec2& shift : shifts) {
        double cost = 0.1 * shift.norm();
        for (const Words& line : lines) {
            Box box;
            for (const Vec2& corner : corners(line)) box.add(datum + shift + corner);
            cost += placer.cost(box);
        }
        if (cost < least) least = cost, best = shift;
    }
    for (Words line : lines) {
        line.middle += datum + best;
        drawing.words.push_back(std::move(line));
    }
}

}  // namespace

Drawing draw_ring_sheet(const PrintPlan& plan, const RingSheet& sheet, bool mirrored) {
    Drawing drawing;
    drawing.id = "ring sheet";
    drawing.lie = Lie::up_on_top;
    drawing.line_word = "TEAR";
    std::vector<const PrintPiece*> pieces;
    for (const std::size_t index : sheet.pieces) pieces.push_back(&plan.pieces[index]);
    std::string ids;
    for (const PrintPiece* piece : pieces) {
        ids += (ids.empty() ? "" : " ") + piece->id;
        const bool torn = piece->outline.tear.has_value();
        add_region(drawing, piece->outline.parting_region(), torn ? Pen::tear : Pen::cut);
        if (torn) add_region(drawing, piece->outline.net, Pen::net);
    }
    const PrintPiece& first = *pieces.front();
    std::vector<templates::Mark> marks;
    for (const templates::Mark& mark : first.outline.marks)
        if (std::holds_alternative<templates::Datum>(mark) ||
            std::holds_alternative<templates::Arrow>(mark))
            marks.push_back(mark);
    for (const templates::Mark& mark : marks) add_mark(drawing, mark);
    const Vec2 datum = datum_of(marks);
    add_block(
        drawing,
        {words_at({0, 0}, 4.0, "ONE SHEET FOR " + ids),
         words_at({0, -6}, 3.2,
                  "their rings agree within " + length_text(sheet.farthest_mm, 1, plan.units) +
                      "; each has its own lines"),
         words_at({0, -11}, 3.2, "tear the largest first, then cut the sheet down to the next")},
        datum);
    WordPlacer placer(drawing);
    placer.name_marks(marks);
    const std::string suffix = mirrored ? "  MIRRORED" : "";
    for (const PrintPiece* piece : pieces) {
        const bool torn = piece->outline.tear.has_value();
        placer.along(piece->outline.parting_region().outer,
                     (torn ? "TEAR  " : "CUT  ") + piece->id + suffix, word_spacing);
        if (torn) placer.along(piece->outline.net.outer, "NET " + piece->id, 2.0 * word_spacing);
    }
    // Of a mirrored sheet there is no table: it is taken on the hull, face towards you.
    if (!mirrored) {
        const auto smallest = std::min_element(
            pieces.begin(), pieces.end(), [](const PrintPiece* a, const PrintPiece* b) {
                return area(a->outline.net) < area(b->outline.net);
            });
        add_table(drawing, polar_columns(pieces, datum, plan.units), (*smallest)->outline.net.outer,
                  datum, plan.ends[1].empty() ? "the top" : plan.ends[1], plan.units);
    }
    return drawing;
}

}  // namespace tearline::paper

#include "core/drawing/polar_drawing.h"

#include <algorithm>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/drawing/draw_parts.h"
#include "core/plane/polar_table.h"

namespace tearline::drawing {

namespace {

constexpr double row_pitch = 4.2;       // [mm]
constexpr double figure_height = 1.96;  // [mm]

void add_words(Drawing& drawing, const Vec2& middle_left, const std::string& text, bool bold) {
    Drawing::Text words{middle_left - Vec2(0.0, 0.5 * figure_height), {0.0, figure_height}, text};
    words.from_left = true;
    words.bold = bold;
    drawing.texts.push_back(std::move(words));
}

std::string radii(const plane::PolarRow& row, Units units) {
    const char* between = units == Units::metric ? " / " : ", ";  // fractions have strokes
    std::string text;
    for (const double radius : row.radii_mm)
        text += (text.empty() ? "" : between) + length_figure(radius, 1, units);
    return text.empty() ? "-" : text;
}

/// The rows of a line under its name.
///
/// @param at  [mm] left end of its name
/// @return    [mm] where its last row is
double add_rows(Drawing& drawing, Vec2 at, const std::string& name,
                const std::vector<plane::PolarRow>& table, Units units) {
    constexpr double second_column = 26.0;  // [mm]
    add_words(drawing, at, name + " line", false);
    for (const plane::PolarRow& row : table) {
        at.y() -= row_pitch;
        add_words(
            drawing, at,
            fixed(row.angle_degrees, row.corner ? 1 : 0) + "\u00b0" + (row.corner ? " corner" : ""),
            false);
        add_words(drawing, at + Vec2(second_column, 0.0), radii(row, units), false);
    }
    return at.y();
}

/// [mm] where the words of a table end
double right_end(const Drawing& drawing) {
    double right = 0.0;
    for (const Drawing::Text& text : drawing.texts) {
        const TextBox box = box_of(text);
        right = std::max(right, box.middle.x() + box.along.x());
    }
    return right;
}

}  // namespace

Drawing polar_drawing(const templates::PieceTemplate& piece, const templates::TemplateSet& set) {
    const templates::Template& outline = piece.outline;
    const Vec2 datum = templates::datum_of(outline.marks).value_or(Vec2(0, 0));
    Drawing drawing;
    drawing.name = "polar " + piece.id;
    drawing.line_word = "TABLE";
    Vec2 at(0, 0);
    add_words(drawing, at, "Piece " + piece.id + " from the datum, " + length_unit(set.units),
              true);
    at.y() -= 1.3 * row_pitch;
    add_words(drawing, at, "angles counter-clockwise from the right: " + quarter_words(set.ends),
              true);
    at.y() -= 1.3 * row_pitch;
    Drawing first;  // the more a ray crosses the wider
    double bottom = add_rows(first, at, "net", plane::polar_table(outline.net, datum), set.units);
    drawing.texts.insert(drawing.texts.end(), first.texts.begin(), first.texts.end());
    if (outline.tear || outline.cut) {
        const double aside = std::max(60.0, right_end(first) + 4.0);  // [mm]
        bottom = std::min(bottom,
                          add_rows(drawing, at + Vec2(aside, 0.0), outline.tear ? "tear" : "cut",
                                   plane::polar_table(outline.parting_region(), datum), set.units));
    }
    const double right = right_end(drawing);
    add_line(drawing, Role::frame,
             {{-2.0, bottom - 3.0},
              {right + 2.0, bottom - 3.0},
              {right + 2.0, row_pitch},
              {-2.0, row_pitch}},
             true);
    return drawing;
}

}  // namespace tearline::drawing

#include "core/formats/cutter_sheet.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/drawing/piece_drawing.h"
#include "core/formats/cutter_text.h"
#include "core/formats/tolerances.h"
#include "core/plane/offset_region.h"
#include "core/plane/thin_line.h"

namespace tearline::formats {

namespace {

bool is_edge(drawing::Role role) {
    return role == drawing::Role::tear || role == drawing::Role::cut ||
           role == drawing::Role::hole || role == drawing::Role::torn_hole ||
           role == drawing::Role::net;
}

drawing::Drawing cutter_drawing(const templates::PieceTemplate& piece,
                                const CutterOptions& options) {
    drawing::Drawing drawing = drawing::piece_drawing(piece, {options.mirror, false});
    if (options.chord_error > tolerance::outline_thinning)
        for (drawing::Drawing::Line& line : drawing.lines)
            if (line.closed && is_edge(line.role))
                line.points =
                    plane::thinned(line.points, options.chord_error - tolerance::outline_thinning);
    // Every piece's datum is its origin.
    if (options.drill) drawing.lines.push_back({drawing::Role::drill, {Vec2(0, 0)}, false});
    return drawing;
}

CutterSheet begin_sheet(const CutterJob& job, const CutterOptions& options,
                        const std::string& name) {
    CutterSheet sheet;
    sheet.name = name;
    sheet.job = job.title;
    sheet.copies = job.copies;
    sheet.arcs = options.arcs;
    sheet.arc_error = std::max(options.chord_error, tolerance::outline_thinning);
    return sheet;
}

std::vector<CutterSheet> piece_sheets(const CutterJob& job, const CutterOptions& options) {
    std::vector<CutterSheet> sheets;
    for (const templates::PieceTemplate& piece : job.pieces) {
        sheets.push_back(begin_sheet(job, options, "templates/" + piece.id));
        sheets.back().drawings.push_back(cutter_drawing(piece, options));
        sheets.back().places.emplace_back(0, 0);
    }
    return sheets;
}

CutterSheet one_sheet(const CutterJob& job, const CutterOptions& options) {
    CutterSheet sheet = begin_sheet(job, options, "templates");
    for (const templates::PieceTemplate& piece : job.pieces)
        sheet.drawings.push_back(cutter_drawing(piece, options));
    sheet.places = drawing::row_places(sheet.drawings);
    return sheet;
}

std::string file_stem(const std::string& fabric) {
    std::string stem = symbol_name(fabric);
    for (char& c : stem) c = c == '_' ? '-' : static_cast<char>(std::tolower(c));
    return stem;
}

/// A word or sketch that stands beside its piece would lie on the neighbour's cloth.
void drop_words_outside(drawing::Drawing& drawing) {
    for (const drawing::Drawing::Line& line : drawing.lines) {
        if (line.role != drawing::Role::tear && line.role != drawing::Role::cut) continue;
        const Loop2 edge = line.points;
        std::erase_if(drawing.texts, [&](const drawing::Drawing::Text& text) {
            return !contains(edge, text.base);
        });
        std::erase_if(drawing.lines, [&](const drawing::Drawing::Line& other) {
            return other.role == drawing::Role::sketch && !contains(edge, other.points.front());
        });
        return;
    }
}

/// The pieces where they lie on a cloth; turned over, the whole cloth is.
CutterSheet laid_sheet(const CutterJob& job, const layout::Roll& roll, const CutterOptions& options,
                       const std::string& name) {
    CutterSheet sheet = begin_sheet(job, options, name);
    sheet.copies = 1;
    sheet.fabric = roll.fabric;
    std::map<std::string, const templates::PieceTemplate*> known;
    for (const templates::PieceTemplate& piece : job.pieces) known[piece.id] = &piece;
    std::map<std::string, int> copy;
    for (const layout::Placement& at : roll.placed) {
        const Vec2 move(options.mirror ? roll.length_mm - at.x_mm : at.x_mm, at.y_mm);
        drawing::Drawing drawing =
            drawing::placed(cutter_drawing(*known.at(at.piece), options),
                            options.mirror ? -at.turn_deg : at.turn_deg, move);
        drop_words_outside(drawing);
        if (const int number = ++copy[at.piece]; number > 1)
            drawing.name += "-" + std::to_string(number);
        sheet.drawings.push_back(std::move(drawing));
        sheet.places.emplace_back(0, 0);
    }
    return sheet;
}

CutterSheet roll_sheet(const CutterJob& job, const layout::Roll& roll, const CutterOptions& options,
                       const std::string& name) {
    CutterSheet sheet = laid_sheet(job, roll, options, name);
    sheet.cloth = Vec2(roll.length_mm, roll.width_mm);
    return sheet;
}

}  // namespace

CutterSheet remnant_sheet(const CutterJob& job, const layout::Roll& roll, const Loop2& outline,
                          const std::string& name, const CutterOptions& options) {
    CutterSheet sheet = laid_sheet(job, roll, options, name);
    drawing::Drawing edge;
    edge.name = "remnant";
    edge.lines.push_back({drawing::Role::frame, outline, true});
    if (options.mirror)
        for (Vec2& p : edge.lines.front().points) p.x() = roll.length_mm - p.x();
    sheet.drawings.push_back(std::move(edge));
    sheet.places.emplace_back(0, 0);
    return sheet;
}

std::vector<CutterSheet> cutter_sheets(const CutterJob& job, CutterFiles kind,
                                       const CutterOptions& options) {
    if (kind == CutterFiles::one) return {one_sheet(job, options)};
    if (kind == CutterFiles::pieces) return piece_sheets(job, options);
    std::vector<CutterSheet> sheets;
    std::map<std::string, int> used;
    for (const layout::Roll& roll : job.rolls) {
        std::string name = "rolls/" + file_stem(roll.fabric);
        if (const int number = ++used[name]; number > 1) name += "-" + std::to_string(number);
        sheets.push_back(roll_sheet(job, roll, options, name));
    }
    return sheets;
}

std::vector<BulgedPoint> cutter_points(const drawing::Drawing::Line& line,
                                       const CutterSheet& sheet) {
    std::vector<Vec2> points;
    for (const Vec2& p : line.points)
        if (points.empty() || !((p - points.back()).norm() < tolerance::cutter_same_point))
            points.push_back(p);
    if (line.closed && points.size() > 1 &&
        (points.front() - points.back()).norm() < tolerance::cutter_same_point)
        points.pop_back();
    if (sheet.arcs && line.closed && is_edge(line.role)) return with_arcs(points, sheet.arc_error);
    std::vector<BulgedPoint> out;
    out.reserve(points.size());
    for (const Vec2& p : points) out.push_back({p, 0.0});
    return out;
}

std::vector<std::string> sheet_words(const CutterSheet& sheet) {
    std::vector<std::string> words = {"Style Name: " + sheet.job, "Author: tearline",
                                      "Units: METRIC", "ALL DIMENSIONS IN MILLIMETRES"};
    if (sheet.cloth)
        words.push_back("Roll of " + sheet.fabric + ": " + fixed(sheet.cloth->x(), 0) +
                        " mm of length, " + fixed(sheet.cloth->y(), 0) + " mm wide");
    else if (sheet.copies > 1)
        words.push_back("MAKE " + std::to_string(sheet.copies) + " OF EACH PIECE");
    for (std::string& note : machine_notes()) words.push_back(std::move(note));
    return words;
}

Vec2 words_start(const CutterSheet& sheet) {
    constexpr double clear = 12.0;
    Vec2 low(0, 0);
    for (std::size_t i = 0; i < sheet.drawings.size(); ++i)
        low = low.cwiseMin(drawing::extent(sheet.drawings[i]).low + sheet.places[i]);
    return low - Vec2(0, clear + 5.0);
}

std::vector<std::string> machine_notes() {
    return {"The lines are where the blade must pass: no kerf is in them.",
            "Overcut at corners and the offset of a drag knife are the",
            "machine's affair: set them there; they are in no line here.",
            "Measure one piece cut from scrap before the rest is cut."};
}

}  // namespace tearline::formats

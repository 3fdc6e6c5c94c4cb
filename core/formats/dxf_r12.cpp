#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/drawing/words_on_piece.h"
#include "core/formats/arcs.h"
#include "core/formats/cutter_text.h"
#include "core/formats/dxf.h"
#include "core/formats/dxf_groups.h"

namespace tearline::formats {

namespace {

void put_text(DxfGroups& out, int layer, const Vec2& base, const Vec2& up, const std::string& text,
              bool centred) {
    out.put(0, "TEXT")
        .put(8, std::to_string(layer))
        .point(base)
        .put(40, up.norm())
        .put(1, dxf_text(text));
    const double turn = std::atan2(-up.x(), up.y()) * 180.0 / std::numbers::pi;
    if (std::abs(turn) > 0.01) out.put(50, turn);
    if (centred) out.put(72, 1).point(base, true, 11);
}

void put_polyline(DxfGroups& out, const std::string& layer, const drawing::Drawing::Line& line,
                  const CutterSheet& sheet) {
    out.put(0, "POLYLINE").put(8, layer).put(66, 1).point(Vec2(0, 0)).put(70, line.closed ? 1 : 0);
    for (const BulgedPoint& p : cutter_points(line, sheet)) {
        out.put(0, "VERTEX").put(8, layer).point(p.at);
        if (p.bulge != 0.0) out.put(42, fixed(p.bulge, 9));
    }
    out.put(0, "SEQEND").put(8, layer);
}

/// A notch is a point of the boundary with its depth as height and the way in as angle.
void put_notch(DxfGroups& out, const drawing::Drawing::Line& line) {
    const Vec2 in = line.points[1] - line.points[0];
    double angle = std::atan2(in.y(), in.x()) * 180.0 / std::numbers::pi;
    if (angle < 0.0) angle += 360.0;
    out.put(0, "POINT").put(8, "4").put(10, line.points[0].x()).put(20, line.points[0].y());
    out.put(30, in.norm()).put(50, angle);
}

/// The boundary's points once more, by what they are: corners, and points of curves.
void put_boundary_points(DxfGroups& out, const drawing::Drawing::Line& line,
                         const CutterSheet& sheet) {
    const std::vector<BulgedPoint> points = cutter_points(line, sheet);
    const std::size_t n = points.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 in = points[i].at - points[(i + n - 1) % n].at;
        const Vec2 on = points[(i + 1) % n].at - points[i].at;
        const bool corner =
            std::abs(std::atan2(cross2(in, on), in.dot(on))) > tolerance::outline_corner;
        out.put(0, "POINT").put(8, corner ? "2" : "3").point(points[i].at);
    }
}

void put_line(DxfGroups& out, const drawing::Drawing::Line& line, const CutterSheet& sheet) {
    const std::string layer = std::to_string(astm_layer(line.role));
    if (line.role == drawing::Role::notch) return put_notch(out, line);
    if (line.points.size() == 1) {
        out.put(0, "POINT").put(8, layer).point(line.points[0]);
        return;
    }
    if (line.points.size() == 2) {
        out.put(0, "LINE").put(8, layer).point(line.points[0]).point(line.points[1], true, 11);
        return;
    }
    put_polyline(out, layer, line, sheet);
    if (astm_layer(line.role) == 1) put_boundary_points(out, line, sheet);
}

/// The grain line that readers of this format turn a piece by. Mat has no grain and no arrow on its
/// template: its line lies across the middle, along the roll as the template does.
void put_grain_of_mat(DxfGroups& out, const drawing::Drawing& drawing) {
    const auto has = [&](drawing::Role role) {
        return std::any_of(drawing.lines.begin(), drawing.lines.end(),
                           [&](const drawing::Drawing::Line& line) { return line.role == role; });
    };
    if (drawing.fabric.empty() || has(drawing::Role::fibre)) return;
    const plane::Box box = drawing::extent(drawing);
    const Vec2 middle = 0.5 * (box.low + box.high);
    const Vec2 half(0.1 * (box.high.x() - box.low.x()), 0.0);
    out.put(0, "LINE").put(8, std::to_string(astm_layer(drawing::Role::fibre)));
    out.point(middle - half).point(middle + half, true, 11);
}

/// The texts by which cutters list a piece: on the piece, on the boundary's layer.
void put_piece_texts(DxfGroups& out, const drawing::Drawing& drawing, int copies) {
    const std::vector<std::string> lines = {
        "Piece Name: " + drawing.name, "Material: " + drawing.fabric,
        "Quantity: " + std::to_string(copies), "Units: METRIC (mm)"};
    const drawing::WordsPlace place = drawing::words_place(drawing, lines, {6.0, 5.0, 4.0, 3.0});
    const double down = drawing::words_pitch * place.height;
    for (std::size_t i = 0; i < lines.size(); ++i)
        put_text(out, 1, place.low + Vec2(0.0, down * static_cast<double>(lines.size() - 1 - i)),
                 Vec2(0, place.height), lines[i], false);
}

void put_tables(DxfGroups& out) {
    out.put(0, "SECTION").put(2, "TABLES");
    out.put(0, "TABLE").put(2, "LTYPE").put(70, 1);
    out.put(0, "LTYPE")
        .put(2, "CONTINUOUS")
        .put(70, 0)
        .put(3, "Solid line")
        .put(72, 65)
        .put(73, 0)
        .put(40, 0.0);
    out.put(0, "ENDTAB");
    // Number and colour: what is cut in red, what is drawn in blue, all dark on white paper.
    constexpr std::array<std::array<int, 2>, 10> layers = {
        {{0, 7}, {1, 1}, {2, 7}, {3, 8}, {4, 6}, {7, 5}, {8, 5}, {11, 1}, {13, 6}, {15, 7}}};
    out.put(0, "TABLE").put(2, "LAYER").put(70, static_cast<int>(layers.size()));
    for (const auto& [layer, colour] : layers)
        out.put(0, "LAYER")
            .put(2, std::to_string(layer))
            .put(70, 0)
            .put(62, colour)
            .put(6, "CONTINUOUS");
    out.put(0, "ENDTAB");
    out.put(0, "TABLE").put(2, "STYLE").put(70, 1);
    out.put(0, "STYLE")
        .put(2, "STANDARD")
        .put(70, 0)
        .put(40, 0.0)
        .put(41, 1.0)
        .put(50, 0.0)
        .put(71, 0);
    out.put(42, 3.0).put(3, "txt").put(4, "");
    out.put(0, "ENDTAB").put(0, "ENDSEC");
}

void put_block(DxfGroups& out, const drawing::Drawing& drawing, const CutterSheet& sheet) {
    const std::string name = symbol_name(drawing.name);
    out.put(0, "BLOCK").put(8, "0").put(2, name).put(70, 0).point(Vec2(0, 0)).put(3, name);
    out.put(1, "");
    for (const drawing::Drawing::Line& line : drawing.lines) put_line(out, line, sheet);
    put_grain_of_mat(out, drawing);
    for (const drawing::Drawing::Text& text : drawing.texts)
        put_text(out, 15, text.base, text.up, text.text, true);
    put_piece_texts(out, drawing, sheet.copies);
    out.put(0, "ENDBLK").put(8, "0");
}

}  // namespace

std::string dxf_r12(const CutterSheet& sheet) {
    DxfGroups out;
    out.put(999,
            "Millimetres. Layers after ASTM D6673: 1 boundary, 2 corners, 3 points of curves, "
            "4 notches, 7 grain, 8 drawn, 11 cut-outs, 13 drilled, 15 words");
    out.put(0, "SECTION").put(2, "HEADER").put(9, "$ACADVER").put(1, "AC1009").put(0, "ENDSEC");
    put_tables(out);
    out.put(0, "SECTION").put(2, "BLOCKS");
    for (const drawing::Drawing& drawing : sheet.drawings) put_block(out, drawing, sheet);
    out.put(0, "ENDSEC").put(0, "SECTION").put(2, "ENTITIES");
    for (std::size_t i = 0; i < sheet.drawings.size(); ++i)
        out.put(0, "INSERT")
            .put(8, "1")
            .put(2, symbol_name(sheet.drawings[i].name))
            .point(sheet.places[i]);
    Vec2 at = words_start(sheet);
    for (const std::string& text : sheet_words(sheet)) {
        put_text(out, 15, at, Vec2(0, 3.5), text, false);
        at.y() -= 6.0;
    }
    out.put(0, "ENDSEC").put(0, "EOF");
    return out.take();
}

}  // namespace tearline::formats

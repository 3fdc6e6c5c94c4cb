#include <cmath>
#include <numbers>

#include "core/output/cutter_text.h"
#include "core/output/dxf.h"
#include "core/output/dxf_groups.h"

namespace tearline::output {

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

void put_line(DxfGroups& out, const Drawing::Line& line) {
    const std::string layer = std::to_string(astm_layer(line.role));
    if (line.points.size() == 1) {
        out.put(0, "POINT").put(8, layer).point(line.points[0]);
        return;
    }
    if (line.points.size() == 2) {
        out.put(0, "LINE").put(8, layer).point(line.points[0]).point(line.points[1], true, 11);
        return;
    }
    out.put(0, "POLYLINE").put(8, layer).put(66, 1).point(Vec2(0, 0)).put(70, line.closed ? 1 : 0);
    for (const Vec2& p : line.points) out.put(0, "VERTEX").put(8, layer).point(p);
    out.put(0, "SEQEND").put(8, layer);
}

/// The texts by which cutters list a piece, on the boundary's layer.
void put_piece_texts(DxfGroups& out, const Drawing& drawing, const DxfHeading& heading) {
    const templates::Box box = extent(drawing);
    double y = box.low.y() - 6.0;
    for (const std::string& text :
         {"Piece Name: " + drawing.name, "Material: " + drawing.fabric,
          "Quantity: " + std::to_string(heading.copies), std::string("Units: METRIC (mm)")}) {
        put_text(out, 1, Vec2(box.low.x(), y), Vec2(0, 3.0), text, false);
        y -= 5.0;
    }
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
    constexpr std::array<int, 7> layers = {0, 1, 4, 7, 8, 11, 15};
    out.put(0, "TABLE").put(2, "LAYER").put(70, static_cast<int>(layers.size()));
    for (const int layer : layers)
        out.put(0, "LAYER")
            .put(2, std::to_string(layer))
            .put(70, 0)
            .put(62, layer == 0 ? 7 : layer % 7 + 1)
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

}  // namespace

std::string dxf_r12(const std::vector<Drawing>& drawings, const DxfHeading& heading) {
    const std::vector<Vec2> places = row_places(drawings);
    DxfGroups out;
    out.put(999,
            "Millimetres. Layers after ASTM D6673: 1 boundary, 4 notches, 7 grain, 8 drawn, 11 "
            "cut-outs, 15 words");
    out.put(0, "SECTION").put(2, "HEADER").put(9, "$ACADVER").put(1, "AC1009").put(0, "ENDSEC");
    put_tables(out);
    out.put(0, "SECTION").put(2, "BLOCKS");
    for (const Drawing& drawing : drawings) {
        const std::string name = symbol_name(drawing.name);
        out.put(0, "BLOCK")
            .put(8, "0")
            .put(2, name)
            .put(70, 0)
            .point(Vec2(0, 0))
            .put(3, name)
            .put(1, "");
        for (const Drawing::Line& line : drawing.lines) put_line(out, line);
        for (const Drawing::Text& text : drawing.texts)
            put_text(out, 15, text.base, text.up, text.text, true);
        put_piece_texts(out, drawing, heading);
        out.put(0, "ENDBLK").put(8, "0");
    }
    out.put(0, "ENDSEC").put(0, "SECTION").put(2, "ENTITIES");
    for (std::size_t i = 0; i < drawings.size(); ++i)
        out.put(0, "INSERT").put(8, "1").put(2, symbol_name(drawings[i].name)).point(places[i]);
    double y = -10.0;
    for (const std::string& text :
         {"Style Name: " + heading.job, std::string("Author: tearline"),
          std::string("Units: METRIC"), std::string("ALL DIMENSIONS IN MILLIMETRES")}) {
        put_text(out, 15, Vec2(0, y), Vec2(0, 5.0), text, false);
        y -= 8.0;
    }
    out.put(0, "ENDSEC").put(0, "EOF");
    return out.take();
}

}  // namespace tearline::output

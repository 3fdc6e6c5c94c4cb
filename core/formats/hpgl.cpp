#include "core/formats/hpgl.h"

#include <cmath>

#include "core/base/numbers.h"
#include "core/formats/cutter_text.h"

namespace tearline::formats {

namespace {

constexpr double steps_per_mm = 40.0;

std::string steps(const Vec2& p) {
    return std::to_string(std::llround(p.x() * steps_per_mm)) + "," +
           std::to_string(std::llround(p.y() * steps_per_mm));
}

void put_line(std::string& out, const drawing::Drawing::Line& line, const Vec2& place) {
    if (line.points.size() < 2) return;
    std::string last = steps(line.points[0] + place);
    out += "PU" + last + ";PD";
    bool first = true;
    const auto go_to = [&](const Vec2& p) {
        std::string next = steps(p + place);
        // Two points within one step of the machine are one.
        if (next == last) return;
        out += (first ? "" : ",") + next;
        last = std::move(next), first = false;
    };
    for (std::size_t i = 1; i < line.points.size(); ++i) go_to(line.points[i]);
    if (line.closed) go_to(line.points[0]);
    out += ";\n";
}

void put_text(std::string& out, const drawing::Drawing::Text& text, const Vec2& place) {
    const double height = text.up.norm();
    const Vec2 along = -turned_left(text.up) / height;
    const std::string words = plain_text(text.text);
    // A plotter's letter is 1.5 widths from the next; sizes are given in cm.
    const double width = 0.55 * height;
    const Vec2 start = text.base + place - 0.75 * width * static_cast<double>(words.size()) * along;
    out += "PU" + steps(start) + ";DI" + fixed(along.x(), 4) + "," + fixed(along.y(), 4) + ";SI" +
           fixed(width / 10.0, 3) + "," + fixed(height / 10.0, 3) + ";LB" + words + "\x03;\n";
}

}  // namespace

std::string hpgl(const CutterSheet& sheet, const HpglPens& pens) {
    const std::vector<drawing::Drawing>& drawings = sheet.drawings;
    std::string out = "IN;PA;\n";
    const auto each = [&](int pen, auto&& put) {
        if (pen <= 0) return;
        out += "SP" + std::to_string(pen) + ";\n";
        for (std::size_t i = 0; i < drawings.size(); ++i) put(drawings[i], sheet.places[i]);
    };
    // Drawn and written first, cut last, while the cloth still lies as it was rolled out.
    each(pens.draw, [&](const drawing::Drawing& drawing, const Vec2& place) {
        for (const drawing::Drawing::Line& line : drawing.lines)
            if (!drawing::is_parted(line.role)) put_line(out, line, place);
    });
    each(pens.write, [&](const drawing::Drawing& drawing, const Vec2& place) {
        for (const drawing::Drawing::Text& text : drawing.texts) put_text(out, text, place);
    });
    each(pens.part, [&](const drawing::Drawing& drawing, const Vec2& place) {
        for (const drawing::Drawing::Line& line : drawing.lines)
            if (drawing::is_parted(line.role)) put_line(out, line, place);
    });
    return out + "PU0,0;SP0;\n";
}

}  // namespace tearline::formats

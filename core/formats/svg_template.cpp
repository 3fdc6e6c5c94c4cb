#include "core/formats/svg_template.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/base/text_room.h"
#include "core/drawing/line_style.h"
#include "core/formats/svg.h"

namespace tearline::formats {

namespace {

using drawing::Role;

struct Group {
    Role role;
    const char* id;
    const char* colour;
};

// Drawn in this order: thin lines first, the edge that the knife or hand follows last.
constexpr std::array groups = {
    Group{Role::next_edge, "smaller-ply", "#666"}, Group{Role::ring, "rings", "#222"},
    Group{Role::net, "net-line", "#111"},          Group{Role::sketch, "sketch", "#111"},
    Group{Role::fold, "fold-lines", "#111"},       Group{Role::kerf, "kerfs", "#111"},
    Group{Role::fibre, "fibre", "#111"},           Group{Role::arrow, "arrows", "#111"},
    Group{Role::datum, "datum", "#111"},           Group{Role::tick, "match-ticks", "#111"},
    Group{Role::relief, "relief-cuts", "#b00020"}, Group{Role::hole, "holes", "#111"},
    Group{Role::torn_hole, "holes", "#111"},       Group{Role::tear, "tear-line", "#111"},
    Group{Role::cut, "cut-line", "#111"},
};

std::string stroke(const Group& group) {
    const auto style = drawing::line_style(group.role).value_or(drawing::LineStyle{});
    std::string out = std::string("stroke=\"") + group.colour + "\" stroke-width=\"" +
                      svg_number(style.width) + "\"";
    const auto& [ink, gap] = style.dash;
    if (ink > 0.0) out += " stroke-dasharray=\"" + svg_number(ink) + " " + svg_number(gap) + "\"";
    return out;
}

std::vector<Vec2> on_paper(const std::vector<Vec2>& points, const Vec2& place) {
    std::vector<Vec2> out;
    out.reserve(points.size());
    for (const Vec2& p : points) out.emplace_back(p.x() + place.x(), place.y() - p.y());
    return out;
}

std::string text_element(const drawing::Drawing::Text& text, const Vec2& place) {
    constexpr double capital_by_em = 0.72;  // of common sans serif faces
    const double size = text.up.norm() / capital_by_em;
    const Vec2 at(text.base.x() + place.x(), place.y() - text.base.y());
    std::string out = "<text x=\"" + svg_number(at.x()) + "\" y=\"" + svg_number(at.y()) +
                      "\" font-size=\"" + svg_number(size) + "\"";
    const double turn = std::atan2(text.up.x(), text.up.y()) * 180.0 / std::numbers::pi;
    if (std::abs(turn) > 0.01)
        out += " transform=\"rotate(" + svg_number(turn) + " " + svg_number(at.x()) + " " +
               svg_number(at.y()) + ")\"";
    if (text.up.norm() >= bold_from) out += " font-weight=\"bold\"";
    return out + ">" + escaped(text.text) + "</text>\n";
}

/// A bar of 100 mm with its ticks and words, its left end at `at` (paper coordinates).
std::string check_bar(const Vec2& at) {
    std::string path;
    for (int i = 0; i <= 10; ++i) {
        const double height = i % 5 == 0 ? 4.0 : 2.0;
        path += svg_path({at + Vec2(10.0 * i, 0), at + Vec2(10.0 * i, -height)}, false);
    }
    path += svg_path({at, at + Vec2(100, 0)}, false);
    return "<g id=\"check-bar\" stroke=\"#111\" stroke-width=\"0.25\" fill=\"none\"><path d=\"" +
           path + "\"/></g>\n<g id=\"check-words\" fill=\"#111\"><text x=\"" + svg_number(at.x()) +
           "\" y=\"" + svg_number(at.y() + 4.5) +
           "\" font-size=\"3.2\">This bar measures 100 mm (3.94 in) when printed at full size (100 "
           "%).</text></g>\n";
}

}  // namespace

std::string svg_groups(const drawing::Drawing& drawing, const Vec2& place) {
    std::string out;
    for (const Group& group : groups) {
        std::string path;
        for (const drawing::Drawing::Line& line : drawing.lines)
            if (line.role == group.role)
                path += svg_path(on_paper(line.points, place), line.closed) + "\n";
        if (path.empty()) continue;
        path.pop_back();
        out += std::string("<g id=\"") + group.id + "\" fill=\"none\" stroke-linejoin=\"round\" " +
               stroke(group) + "><path d=\"" + path + "\"/></g>\n";
    }
    for (const bool warning : {false, true}) {
        std::string words;
        for (const drawing::Drawing::Text& text : drawing.texts)
            if (text.warning == warning) words += text_element(text, place);
        if (words.empty()) continue;
        out += std::string("<g id=\"") + (warning ? "warnings" : "words") +
               "\" text-anchor=\"middle\" fill=\"" + (warning ? "#b00020" : "#111") + "\">\n" +
               words + "</g>\n";
    }
    return out;
}

std::string svg_template(const drawing::Drawing& drawing) {
    constexpr double margin = 8.0, foot = 16.0;
    const plane::Box box = drawing::extent(drawing);
    const double width = std::max(box.high.x() - box.low.x(), 116.0) + 2 * margin;
    const double height = box.high.y() - box.low.y() + 2 * margin + foot;
    const Vec2 place(0.5 * width - 0.5 * (box.low.x() + box.high.x()), margin + box.high.y());
    const std::string w = svg_number(width), h = svg_number(height);
    std::string out = xml_begin + svg_begin({width, height}, {0, 0}, svg_fonts) + "\n";
    out +=
        "<title>" + escaped(drawing.title) + (drawing.mirrored ? " MIRRORED" : "") + "</title>\n";
    out += "<desc>1 user unit is 1 mm. Datum at (" + svg_number(place.x()) + ", " +
           svg_number(place.y()) + "); y points down.</desc>\n";
    out += "<rect id=\"paper\" width=\"" + w + "\" height=\"" + h + "\" fill=\"#fff\"/>\n";
    out += svg_groups(drawing, place);
    out += check_bar(Vec2(0.5 * width - 50.0, height - margin - 2.0));
    return out + "</svg>\n";
}

}  // namespace tearline::formats

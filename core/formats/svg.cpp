#include "core/formats/svg.h"

#include "core/base/numbers.h"
#include "core/base/printable.h"

namespace tearline::formats {

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : valid_text(text)) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
        }
    }
    return out;
}

std::string svg_number(double value) {
    std::string text = fixed(value, 4);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string svg_text(const Vec2& at, std::string_view words, const TextStyle& style) {
    return "<text x=\"" + svg_number(at.x()) + "\" y=\"" + svg_number(at.y()) + "\" font-size=\"" +
           svg_number(style.size) + "\" text-anchor=\"" + style.anchor + "\" fill=\"" + style.fill +
           "\"" + (style.bold ? " font-weight=\"bold\"" : "") + ">" + escaped(words) + "</text>\n";
}

std::string svg_begin(const Vec2& size, const Vec2& low, const std::string& attributes) {
    const std::string width = svg_number(size.x()), height = svg_number(size.y());
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + width + "mm\" height=\"" +
           height + "mm\" viewBox=\"" + svg_number(low.x()) + " " + svg_number(low.y()) + " " +
           width + " " + height + "\"" + (attributes.empty() ? "" : " " + attributes) + ">";
}

std::string svg_file_begin(const Vec2& size, const std::string& title) {
    return xml_begin + svg_begin(size, {0, 0}, svg_fonts) + "\n<title>" + escaped(title) +
           "</title>\n<rect width=\"" + svg_number(size.x()) + "\" height=\"" +
           svg_number(size.y()) + "\" fill=\"#fff\"/>\n";
}

std::string svg_path(const std::vector<Vec2>& points, bool closed) {
    std::string path;
    for (const Vec2& p : points) {
        path += path.empty() ? "M" : "L";
        path += svg_number(p.x());
        path += ' ';
        path += svg_number(p.y());
    }
    return closed ? path + "Z" : path;
}

}  // namespace tearline::formats

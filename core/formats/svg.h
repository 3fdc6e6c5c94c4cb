#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "core/base/outline.h"

namespace tearline::formats {

/// Text made safe for XML; characters that XML forbids become spaces.
[[nodiscard]] std::string escaped(std::string_view text);

/// A number as SVG wants it: a point, no more digits than needed to 0.0001.
[[nodiscard]] std::string svg_number(double value);

/// How words look in a picture.
struct TextStyle {
    double size = 4.0;  ///< [mm]
    const char* anchor = "start";
    const char* fill = "#1c2730";
    bool bold = false;
};

/// Words at a point of their base line.
[[nodiscard]] std::string svg_text(const Vec2& at, std::string_view words,
                                   const TextStyle& style = {});

/// The fonts of a file, each where the one before is missing.
constexpr const char* svg_fonts = "font-family=\"Helvetica, Arial, 'DejaVu Sans', sans-serif\"";
constexpr const char* xml_begin = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";

/// Opens a picture of a size [mm].
/// @param low         its upper left corner in its own coordinates
/// @param attributes  further ones
[[nodiscard]] std::string svg_begin(const Vec2& size, const Vec2& low = Vec2(0, 0),
                                    const std::string& attributes = "");

/// Opens a picture that is a file: its title, white paper.
[[nodiscard]] std::string svg_file_begin(const Vec2& size, const std::string& title);

/// Path data through points that are in paper coordinates already (y down).
[[nodiscard]] std::string svg_path(const std::vector<Vec2>& points, bool closed);

}  // namespace tearline::formats

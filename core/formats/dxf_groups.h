#pragma once
#include <string>
#include <string_view>

#include "core/drawing/drawing.h"

namespace tearline::formats {

/// Group codes and values of a DXF file, one a line, with CRLF as the format's own writers have it.
class DxfGroups {
public:
    DxfGroups& put(int code, std::string_view text);
    DxfGroups& put(int code, int number) { return put(code, std::to_string(number)); }
    DxfGroups& put(int code, double number);
    /// x and y under `code` and `code` + 10; z = 0 where asked for.
    DxfGroups& point(const Vec2& p, bool with_z = true, int code = 10);
    [[nodiscard]] std::string take() { return std::move(text_); }

private:
    std::string text_;
};

/// The layer of a line after ASTM D6673: by number, for fabric cutters.
///
/// @source  SOURCES.md section 9: 1 boundary, 4 notches, 7 grain line, 8 internal lines that are
///          not cut, 11 internal cut-outs, 13 drill holes, 15 annotation
[[nodiscard]] int astm_layer(drawing::Role role);

/// The layer of a line by a word a person knows, for CAD.
[[nodiscard]] const char* cad_layer(drawing::Role role);

}  // namespace tearline::formats

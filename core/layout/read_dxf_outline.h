#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "core/base/outline.h"
#include "core/base/result.h"

namespace tearline::layout {

struct DxfOutline {
    Loop2 points;      ///< in the file's own unit, counter-clockwise
    std::string unit;  ///< "mm", "cm", "m", "in" or "ft", as the file's header says; "" where not
};

/// The one closed outline in a DXF file: a closed polyline of either kind, its arcs as chords, or
/// lines and arcs that follow on one another.
///
/// Points, words, dimensions and what stands on a layout's paper are passed over. Whatever else
/// could be an edge is refused: pieces would be laid over a hole that nobody read.
/// @error bad_input  no text DXF, no closed outline or several, lines that close none, other curves
[[nodiscard]] Result<DxfOutline> read_dxf_outline(const std::filesystem::path& file);

/// The same from its text.
[[nodiscard]] Result<DxfOutline> parse_dxf_outline(std::string_view text, const std::string& name);

}  // namespace tearline::layout

#pragma once
#include <filesystem>
#include <string_view>

#include "core/base/outline.h"
#include "core/base/result.h"

namespace tearline::layout {

/// The one closed outline in a DXF file: a closed polyline of either kind, its arcs as chords, or
/// lines and arcs that follow on one another; in the file's own unit, counter-clockwise.
///
/// Points, words and dimensions are passed over; blocks are not looked into.
/// @error bad_input  no text DXF, no closed outline, or several
[[nodiscard]] Result<Loop2> read_dxf_outline(const std::filesystem::path& file);

/// The same from its text.
[[nodiscard]] Result<Loop2> parse_dxf_outline(std::string_view text, const std::string& name);

}  // namespace tearline::layout

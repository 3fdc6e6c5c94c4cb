#pragma once
#include <cmath>
#include <string>

#include "core/layout/read_dxf_outline.h"

namespace tearline::fuzz {

/// Feeds bytes to the reader of remnants; false when what it answers breaks its contract.
inline bool dxf_reader_holds(const std::string& text) {
    const auto outline = layout::parse_dxf_outline(text, "left.dxf");
    if (!outline)
        return outline.error().kind == ErrorKind::bad_input &&
               outline.error().message().rfind("left.dxf:", 0) == 0;
    if (outline->points.size() < 3 || signed_area(outline->points) < 0.0) return false;
    for (const Vec2& p : outline->points)
        if (!std::isfinite(p.x()) || !std::isfinite(p.y())) return false;
    return true;
}

}  // namespace tearline::fuzz

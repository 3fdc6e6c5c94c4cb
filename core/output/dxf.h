#pragma once
#include <string>
#include <vector>

#include "core/output/drawing.h"

namespace tearline::output {

/// What stands over all pieces of a DXF file.
struct DxfHeading {
    std::string job;
    int copies = 1;
};

/// All drawings as DXF R12 after ASTM D6673 for fabric cutters: one block a piece, layers by
/// number, closed polylines, points (no splines) at the spacing of the plan, the unit in a text
/// too.
[[nodiscard]] std::string dxf_r12(const std::vector<Drawing>& drawings, const DxfHeading& heading);

/// All drawings as DXF 2000 for CAD: lightweight polylines on named layers, unit mm in the header.
[[nodiscard]] std::string dxf_2000(const std::vector<Drawing>& drawings, const DxfHeading& heading);

}  // namespace tearline::output

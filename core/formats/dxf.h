#pragma once
#include <string>

#include "core/formats/cutter_sheet.h"

namespace tearline::formats {

/// A sheet as DXF R12 after ASTM D6673 for fabric cutters: one block a piece, layers by number,
/// closed polylines at the spacing of the plan (no splines), turn and curve points, notches, the
/// unit in a text too.
[[nodiscard]] std::string dxf_r12(const CutterSheet& sheet);

/// A sheet as DXF 2000 for CAD: lightweight polylines on named layers, unit mm in the header.
[[nodiscard]] std::string dxf_2000(const CutterSheet& sheet);

}  // namespace tearline::formats

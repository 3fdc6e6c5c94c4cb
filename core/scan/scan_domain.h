#pragma once
#include <span>
#include <vector>

#include "core/base/outline.h"
#include "core/scan/fair_field.h"

namespace tearline::scan {

/// A hole in the data: the scan goes on all round it.
struct DataHole {
    Vec2 middle{0, 0};      ///< [mm] by parameters
    double area_mm2 = 0.0;  ///< by parameters
};

/// The part of a base's parameters that a scan covers.
struct ScanDomain {
    Loop2 outer;  ///< round the points about the middle, counter-clockwise, every hole filled
    std::vector<DataHole> holes;  ///< outside the bridged part, the largest first
};

/// @param points   that stand for surface
/// @param bridged  covered whether points lie there or not
/// @param reach    [mm] half the side of the square looked at
/// @param spacing  [mm] between neighbouring points
[[nodiscard]] ScanDomain domain_of(std::span<const FieldPoint> points, const Region2& bridged,
                                   const Vec2& middle, double reach, double spacing);

}  // namespace tearline::scan

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

/// Where so many points are missing that chance does not explain it: sixteen by how close they lie
/// round about, which scattered points leave out once in ten million places.
///
/// @param points   that stand for surface
/// @param bridged  where none is asked for
/// @param outer    round all of them, counter-clockwise
/// @return         the largest first
/// @source  Poisson's law: nought of sixteen expected, e^-16; derived
[[nodiscard]] std::vector<DataHole> data_holes(std::span<const FieldPoint> points,
                                               const Region2& bridged, const Loop2& outer);

}  // namespace tearline::scan

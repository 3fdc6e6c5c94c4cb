#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/vec.h"

namespace tearline::plan {

/// What was laid flat in a plan of nothing else: it has no damage, no dish and no quantities.
struct FlatAsked {
    std::string cloth;         ///< as asked for: "mat", or a name of the catalogue
    std::optional<int> face;   ///< of a CAD model, from 1
    std::vector<Vec3> points;  ///< [mm] of an outline
    double margin_mm = 0.0;    ///< beyond the net line, to cut by
    double perimeter_mm = 0.0;
    std::string orientation;  ///< how it was known which side is outside
};

}  // namespace tearline::plan

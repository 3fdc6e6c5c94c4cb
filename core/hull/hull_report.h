#pragma once
#include <string>

#include "core/hull/hull.h"

namespace tearline::hull {

/// What a model holds, as lines for a person: what was read, size, openings, orientation, radii,
/// what was mended.
[[nodiscard]] std::string hull_report_text(const Hull& hull);

}  // namespace tearline::hull

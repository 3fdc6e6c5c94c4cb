#pragma once
#include "core/hull/hull.h"

namespace tearline::hull {

/// The same hull for another thread, which evaluates its faces by itself.
[[nodiscard]] Hull for_another_thread(const Hull& hull);

}  // namespace tearline::hull

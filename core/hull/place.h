#pragma once
#include <string>

#include "core/base/numbers.h"
#include "core/base/vec.h"

namespace tearline::hull {

/// A point in messages: "(1200.0, -340.5, 80.2)".
inline std::string place(const Vec3& p) {
    return "(" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + ")";
}

}  // namespace tearline::hull

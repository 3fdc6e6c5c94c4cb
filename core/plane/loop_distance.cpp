#include "core/plane/loop_distance.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tearline::plane {

double distance_to_loop(const Loop2& loop, const Vec2& p) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[i], along = loop[(i + 1) % loop.size()] - a;
        const double square = along.squaredNorm();
        const double share = square > 0.0 ? std::clamp((p - a).dot(along) / square, 0.0, 1.0) : 0.0;
        least = std::min(least, (p - a - share * along).squaredNorm());
    }
    return std::sqrt(least);
}

}  // namespace tearline::plane

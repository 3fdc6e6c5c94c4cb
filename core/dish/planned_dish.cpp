#include "core/dish/planned_dish.h"

namespace tearline::dish {

double depth_at(std::span<const Vec2> profile, double offset) {
    if (!(offset > profile.front().x())) return profile.front().y();
    for (std::size_t i = 1; i < profile.size(); ++i) {
        if (offset > profile[i].x()) continue;
        const double along = (offset - profile[i - 1].x()) / (profile[i].x() - profile[i - 1].x());
        return profile[i - 1].y() + along * (profile[i].y() - profile[i - 1].y());
    }
    return 0.0;
}

}  // namespace tearline::dish

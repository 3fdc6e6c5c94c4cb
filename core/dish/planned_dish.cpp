#include "core/dish/planned_dish.h"

#include <algorithm>

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

double PlannedDish::depth(const Vec2& chart_point) const {
    double depth = depth_at(profile_, distance_.at(chart_point));
    const double width = profile_.back().x();
    for (const OffsetDistance& opening : openings_)
        depth = std::min(depth, depth_at(profile_, width - opening.at(chart_point)));
    return depth;
}

}  // namespace tearline::dish

#include "core/scan/crease_line.h"

#include <Eigen/Geometry>
#include <algorithm>

namespace tearline::scan {

PlaceView PlaceView::along(const Vec3& middle, const Vec3& normal) {
    PlaceView view;
    view.middle = middle;
    view.normal = normal.normalized();
    view.right = view.normal.unitOrthogonal();
    view.up = view.normal.cross(view.right);
    return view;
}

CreaseLine::CreaseLine(const std::vector<Vec2>& places) : from_(places.front()) {
    const Vec2 chord = places.back() - places.front();
    length_ = chord.norm();
    if (length_ > 0.0) way_ = chord / length_;
    lead_through(places);
}

void CreaseLine::lead_through(const std::vector<Vec2>& places) {
    knots_.clear();
    for (const Vec2& place : places) {
        const double s = along(place);
        one_way_ = one_way_ && (knots_.empty() || s > knots_.back().along);
        knots_.push_back({s, (place - from_).dot(across())});
    }
}

double CreaseLine::offset(double along) const {
    const auto after = std::upper_bound(knots_.begin(), knots_.end(), along,
                                        [](double s, const Knot& knot) { return s < knot.along; });
    const auto last = std::clamp<std::ptrdiff_t>(after - knots_.begin(), 1,
                                                 static_cast<std::ptrdiff_t>(knots_.size()) - 1);
    const Knot& a = knots_[static_cast<std::size_t>(last - 1)];
    const Knot& b = knots_[static_cast<std::size_t>(last)];
    return a.offset + (along - a.along) / (b.along - a.along) * (b.offset - a.offset);
}

}  // namespace tearline::scan

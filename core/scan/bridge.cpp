#include "core/scan/bridge.h"

#include <algorithm>
#include <utility>

#include "core/plane/nearest_on_line.h"

namespace tearline::scan {

Bridge::Bridge(Loop2 outline, double guard) : outline_(std::move(outline)), guard_(guard) {
    if (outline_.empty()) return;
    for (const Vec2& p : outline_) middle_ += p / static_cast<double>(outline_.size());
    for (const Vec2& p : outline_) outer_ = std::max(outer_, (p - middle_).norm() + guard_);
    if (contains(outline_, middle_)) inner_ = plane::distance_to_loop(outline_, middle_);
}

bool Bridge::holds(const Vec2& uv) const {
    if (outline_.empty()) return false;
    const double away = (uv - middle_).norm();
    if (away > outer_) return false;
    if (away < inner_) return true;
    return contains(outline_, uv) || plane::distance_to_loop(outline_, uv) < guard_;
}

}  // namespace tearline::scan

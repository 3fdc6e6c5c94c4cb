#include "core/damage/outline_faults.h"

namespace tearline::damage {

std::optional<Vec3> enclosed_opening(const surface::Patch& patch, const Loop2& chart) {
    for (const Loop2& hole : patch.domain().holes)
        for (const Vec2& p : hole)
            if (contains(chart, p)) {
                const auto at = patch.locate(p);
                return at ? std::optional<Vec3>(patch.sample(*at).position) : Vec3(Vec3::Zero());
            }
    return std::nullopt;
}

}  // namespace tearline::damage

#pragma once
#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>

#include "core/base/result.h"
#include "core/base/tolerances.h"
#include "core/job/job.h"

/// How a person faces a hull that is measured by hand: x and y in the plane before them, z towards
/// them.
namespace tearline::hull {

/// Along the bow and across it, towards up, in the plane that a person measures from.
struct PlaneAxes {
    Vec3 along, across;

    explicit PlaneAxes(const job::HullOptions& options) {
        const Vec3 out(0, 0, 1);
        const double near_normal = std::cos(tolerance::transom_degrees * std::numbers::pi / 180.0);
        const Vec3 bow = std::abs(options.bow.dot(out)) > near_normal ? Vec3(1, 0, 0) : options.bow;
        along = (bow - bow.dot(out) * out).normalized();
        across = out.cross(along);
        if (across.dot(options.up) < 0.0) across = -across;
    }
    [[nodiscard]] double handedness() const { return along.cross(across).z() > 0.0 ? 1.0 : -1.0; }
};

/// +1 where the person stands outside: z is outward.
inline double person_outside(const job::HullOptions& options) {
    return options.surface == job::Side::outside ? 1.0 : -1.0;
}

/// A figure that is refused, with the line it stands in.
inline tl::unexpected<Error> at_line(int line, std::string key, std::string what) {
    return tl::unexpected<Error>(
        Error{.key = std::move(key), .what = std::move(what), .line = line});
}

}  // namespace tearline::hull

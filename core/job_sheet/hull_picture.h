#pragma once
#include <string>

#include "core/plan/plan.h"
#include "core/plane/room.h"

namespace tearline::job_sheet {

/// Parallel projection of the hull onto paper.
struct HullProjection {
    Vec3 right{1, 0, 0}, up{0, 1, 0}, towards{0, 0, 1};  ///< unit; `towards` points at the onlooker
    Vec3 centre{0, 0, 0};                                ///< [mm] shown at `at`
    Vec2 at{0, 0};                                       ///< [mm] on paper
    double scale = 1.0;                                  ///< [-] paper mm a hull mm

    /// Paper coordinates, y down.
    [[nodiscard]] Vec2 operator()(const Vec3& p) const {
        const Vec3 d = p - centre;
        return at + scale * Vec2(d.dot(right), -d.dot(up));
    }
};

/// Looks at the repair square on from the laying side, up being up where there is an up.
[[nodiscard]] HullProjection square_on(const Plan& plan);

/// Looks at the whole hull from the laying side, a little from above and from ahead.
[[nodiscard]] HullProjection three_quarter(const Plan& plan);

/// Moves and scales a projection so that the points fill a box of the paper.
void fit(HullProjection& projection, const std::vector<Vec3>& points, const plane::Box& paper,
         double most_scale);

/// The hull, shaded, far triangles first; what lies outside the window is left out.
[[nodiscard]] std::string shaded_hull(const Plan& plan, const HullProjection& projection,
                                      const plane::Box& window);

/// An open line on the hull as path data.
[[nodiscard]] std::string projected_line(const std::vector<Vec3>& line,
                                         const HullProjection& projection);

/// A closed region of the hull as path data.
[[nodiscard]] std::string projected_path(const Region3& region, const HullProjection& projection);

}  // namespace tearline::job_sheet

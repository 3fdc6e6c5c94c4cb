#pragma once
#include <Eigen/Core>
#include <vector>

#include "core/plane/nearest_on_line.h"
#include "core/rates/edge_rates.h"
#include "core/rates/moved_surface.h"
#include "core/surface/closed_spline.h"

namespace tearline::rates {

/// Places of the patch along a straight line of its chart, both ends included.
[[nodiscard]] std::vector<BasePlace> places_between(const surface::Patch& patch, const Vec2& from,
                                                    const Vec2& to);

/// How the damage outline slides over the surface when the surface moves: points by tape keep their
/// distances from the marks, a disc's or an ellipse's edge keeps its distance from the centre,
/// points given in space go to the foot of their normal.
class OutlineShift {
public:
    OutlineShift(const PlannedGround& on, const MovedSurface& surface);

    /// How far a place at a fixed distance outside the outline moves along a direction of its
    /// tangent plane square to it, for each pole.
    [[nodiscard]] Eigen::RowVectorXd outward(const Vec2& chart, const Vec3& direction) const;

private:
    /// Movement of a point of the outline along a direction of its tangent plane, for each pole.
    [[nodiscard]] Eigen::RowVectorXd along(const plane::OnLine& point, const Vec3& direction) const;

    void pick(const PlannedGround& on);
    void draw_smooth();

    /// A point that the outline was picked by, in the order of the outline.
    struct Picked {
        std::size_t index = 0;  ///< of the outline point nearest to it
        Vec3 at{0, 0, 0};
        Eigen::Matrix3Xd shift;  ///< over the surface, a column for each pole
        Eigen::Matrix3Xd moved;  ///< in space
    };

    const PlannedGround on_;  ///< references, so that it may be handed over as a temporary
    const MovedSurface& surface_;
    std::vector<Picked> picked_;                ///< none round a centre
    std::vector<surface::ClosedSpline> drawn_;  ///< of a smooth outline: before, then each pole's
    std::vector<Eigen::Index> poles_;           ///< of each but the first of `drawn_`
};

}  // namespace tearline::rates

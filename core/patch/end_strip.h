#pragma once
#include <vector>

#include "core/surface/open_spline.h"
#include "core/surface/patch.h"

namespace tearline::patch {

/// How the finished face goes over the hull's end.
struct EndBend {
    double radius = 0.0;  ///< [mm] > 0, of the finished face
    double turn = 0.0;    ///< [rad] > 0

    /// Of the finished face, from where it leaves the hull to where it lies on the far face [mm].
    [[nodiscard]] double girth() const { return radius * turn; }
};

/// The face beyond a run of the hull's end: rolled about the end through a turn, then going on
/// straight along the face that the cloth is lapped on to.
///
/// Square to the end it is an arc and a straight line, whatever the end's own way. Places are (u,
/// v): u counts the points of the run, v is the way from the end in mm.
class EndStrip {
public:
    /// @param place   [mm] of the run's points, three or more, the hull to the left
    /// @param normal  unit, of the hull there, towards the laying side
    EndStrip(std::vector<Vec3> place, std::vector<Vec3> normal, const EndBend& bend);

    [[nodiscard]] surface::SurfaceSample at(double u, double v) const;

    /// How much shorter or longer the strip is at a place than the end is [-]; 0 where it folds.
    [[nodiscard]] double stretch_along(double u, double v) const;

private:
    /// A line of the end with the directions of the strip there, and how they change with the way
    /// along it.
    struct Frame {
        Vec3 place, normal, out;
        Vec3 place_by, normal_by, out_by;
    };
    struct Point {
        Vec3 place, by_u, by_v, normal;
    };
    [[nodiscard]] Frame frame(double u) const;
    [[nodiscard]] Point point(double u, double v, bool on_bend) const;

    EndBend bend_;
    surface::OpenSpline place_, normal_;
};

}  // namespace tearline::patch

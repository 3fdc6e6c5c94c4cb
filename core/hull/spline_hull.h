#pragma once
#include "core/hull/fair_spline.h"
#include "core/hull/hull.h"

namespace tearline::hull {

/// A tensor spline surface by its poles: row i belongs to function i of `rows`.
struct SplineSurface {
    SplineBasis rows, columns;
    Eigen::MatrixXd x, y, z;  ///< [mm]
};

/// The poles of the surface through points at every pair of sites.
[[nodiscard]] SplineSurface surface_through(const SplineBasis& rows, const SplineBasis& columns,
                                            const Eigen::MatrixXd& x, const Eigen::MatrixXd& y,
                                            const Eigen::MatrixXd& z);

/// A hull of one CAD face: meshed, with its exact surface behind it, like one read from a file.
///
/// @param outward  +1 where (along rows) x (along columns) looks outward, -1 where inward
[[nodiscard]] Hull spline_hull(const SplineSurface& surface, double outward);

}  // namespace tearline::hull

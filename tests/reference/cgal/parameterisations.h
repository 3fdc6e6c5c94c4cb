#pragma once
#include <vector>

#include "core/surface/surface_mesh.h"

/// CGAL's flatteners, as the independent measure of ours (CGAL: computational geometry library).
namespace tearline::test {

/// As rigid as possible: the nearest thing to a membrane that CGAL has. Its input is scaled down
/// first, because with its default weight the answer collapses when coordinates are large; the
/// answer is scaled back.
/// @param iterations  local-global steps at most; CGAL's default is 50
/// @param tolerance   relative fall of the energy that ends it; CGAL's default is 1e-6
[[nodiscard]] std::vector<Vec2> cgal_arap(const surface::SurfaceMesh& mesh,
                                          unsigned iterations = 50, double tolerance = 1e-6);

/// Least squares conformal map, in the scale that the membrane energy likes best.
[[nodiscard]] std::vector<Vec2> cgal_lscm(const surface::SurfaceMesh& mesh);

/// Membrane energy of a flat shape by Eigen's singular values: another route than the core's.
/// @return  sum of A ((s1-1)^2 + (s2-1)^2) over the triangles of the edge lengths [mm2]; s2 < 0
///          where a triangle is turned over
[[nodiscard]] double energy_by_singular_values(const surface::SurfaceMesh& mesh,
                                               const std::vector<Vec2>& flat);

/// The same mesh with straight edges, which is all that CGAL knows.
[[nodiscard]] surface::SurfaceMesh with_chord_lengths(surface::SurfaceMesh mesh);

}  // namespace tearline::test

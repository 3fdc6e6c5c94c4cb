#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "core/base/vec.h"

/// CGAL's hole filling and smoothing, as the independent measure of the fair surface (CGAL:
/// computational geometry library).
namespace tearline::test {

/// A mesh by its points and their numbers, counter-clockwise.
struct Facets {
    std::vector<Vec3> points;
    std::vector<std::array<std::int32_t, 3>> triangles;
};

/// The patch that CGAL fills the hole of a mesh with, its shorter border: triangulated, refined to
/// the density round about, and faired.
/// @param continuity  0: least area, 1: least bending, 2: least change of it, each tangent, and so
///                    on, to the mesh round about
[[nodiscard]] Facets cgal_filled(const Facets& mesh, unsigned continuity);

/// Each point moved to a surface of second order through its nearest neighbours.
[[nodiscard]] std::vector<Vec3> cgal_jet_smoothed(const std::vector<Vec3>& points,
                                                  unsigned neighbours = 24);

}  // namespace tearline::test

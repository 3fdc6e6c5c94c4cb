#pragma once
#include <array>
#include <vector>

#include "core/base/ids.h"
#include "core/base/vec.h"

namespace tearline::surface {

/// Conforming triangle mesh of part of a surface, seen counter-clockwise from the laying side.
///
/// Lengths are intrinsic: an edge is as long as the arc it stands for, not as its chord, so that
/// a coarse mesh of a curved place flattens as the surface itself would. Normals are kept per
/// corner: along a crease the two sides disagree.
struct SurfaceMesh {
    std::vector<Vec3> position;  ///< [mm] per vertex, on the surface
    std::vector<std::array<std::int32_t, 3>> triangle;
    std::vector<std::array<Vec3, 3>> corner_normal;  ///< unit, towards the laying side
    std::vector<std::array<double, 3>> edge_length;  ///< [mm] arc from corner i to corner i+1
};

/// Length of the arc over a chord whose end normals turn by some angle in the chord's plane.
///
/// @return  c (f/2) / sin(f/2), f the turn of the normals about the axis square to chord and
///          mean normal [mm]
/// @source  circle through both ends with both normals; exact on spheres and cylinders
double arc_length(const Vec3& a, const Vec3& b, const Vec3& normal_a, const Vec3& normal_b);

/// Fills `edge_length` from positions and corner normals; an edge between two triangles that
/// disagree (a crease) gets the mean of its two arcs on both sides.
void set_arc_lengths(SurfaceMesh& mesh);

/// For every corner i of every triangle, the triangle across edge i -> i+1, or -1.
std::vector<std::array<std::int32_t, 3>> neighbours(const SurfaceMesh& mesh);

/// Boundary loops as vertex indices, the surface on the left of each.
std::vector<std::vector<std::int32_t>> boundary_loops(const SurfaceMesh& mesh);

}  // namespace tearline::surface

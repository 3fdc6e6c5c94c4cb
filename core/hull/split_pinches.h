#pragma once
#include "core/hull/topology.h"

namespace tearline::hull {

/// Gives each fan of triangles its own copy of a vertex where open edges of several fans meet.
///
/// @return  how many vertices were added
std::size_t split_pinches(std::vector<Vec3>& vertices, Triangles& triangles);

}  // namespace tearline::hull

#pragma once
#include "core/hull/hull.h"

class TopoDS_Shape;

namespace tearline::hull {

/// Triangles of a sewn shape with their faces, parameters and edges; the triangles share vertices
/// wherever the shape shares edges.
///
/// @return  vertices, triangles (as the faces look), face, corner_uv, cad_edges; the rest is empty;
///          no triangles where the shape cannot be meshed or is over 1 km long
[[nodiscard]] Hull mesh_cad(const TopoDS_Shape& shape);

}  // namespace tearline::hull

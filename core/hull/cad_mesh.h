#pragma once
#include "core/hull/hull.h"

class TopoDS_Shape;

namespace tearline::hull {

/// Meshes the faces of a shape, which keeps the triangles.
///
/// @return  false where it cannot be meshed or is over 1 km long
[[nodiscard]] bool mesh_faces(const TopoDS_Shape& shape);

/// What is told of such a shape.
inline constexpr const char* cannot_be_meshed =
    "its faces cannot be meshed, or reach over 1 km; repair the model";

/// Triangles of a meshed shape with their faces, parameters and edges; the triangles share vertices
/// wherever the shape shares edges.
///
/// @return  vertices, triangles (as the faces look), face, corner_uv, cad_edges; the rest is empty
[[nodiscard]] Hull hull_of_meshed(const TopoDS_Shape& shape);

/// Both; no triangles where the shape cannot be meshed.
[[nodiscard]] Hull mesh_cad(const TopoDS_Shape& shape);

}  // namespace tearline::hull

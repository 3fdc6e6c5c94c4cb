#pragma once

/// Every numeric tolerance of the core: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] vertices of a model nearer than this are one vertex (DESIGN section 8: weld tolerance).
inline constexpr double weld = 1e-3;

/// [-] 4 float ulp relative to the model's extent: STL stores 24-bit coordinates.
inline constexpr double weld_relative = 4.0 / (1 << 23);

/// [-] barycentric weights this far below zero still count as inside, so that a point on an edge
/// shared by two triangles is found in one of them.
inline constexpr double barycentric_slack = 1e-9;

/// [-] a geodesic that meets a vertex passes it this fraction of the edge to the side.
inline constexpr double vertex_nudge = 1e-7;

/// [mm] outline points farther than this from the hull are refused (job file contract).
inline constexpr double outline_reach = 20.0;

/// [deg] edges turning more than this are creases when a mesh has no normals of its own.
inline constexpr double crease_degrees = 30.0;

/// [mm] how near the innermost point of an outline is to the true one; it only places a datum.
inline constexpr double innermost_point = 0.1;

/// [deg] a direction nearer than this to the normal gives no arrow on a template (DESIGN section 7).
inline constexpr double transom_degrees = 20.0;

}  // namespace tearline::tolerance

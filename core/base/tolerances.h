#pragma once

/// Numeric tolerances that several rooms share: name, value, unit and the reason for it. What one
/// room needs alone stands in its own tolerances.h.
namespace tearline::tolerance {

/// [mm] vertices of a model nearer than this are one vertex (DEFINITIONS.md, Bars).
inline constexpr double weld = 1e-3;

/// [-] barycentric weights this far below zero still count as inside, so that a point on an edge
/// shared by two triangles is found in one of them.
inline constexpr double barycentric_slack = 1e-9;

/// [mm] outline points farther than this from the hull are refused (job file contract).
inline constexpr double outline_reach = 20.0;

/// [deg] edges turning more than this are creases when a mesh has no normals of its own.
inline constexpr double crease_degrees = 30.0;

/// [deg] a direction nearer than this to the normal gives no arrow on a template
/// (DEFINITIONS.md, Flat frame).
inline constexpr double transom_degrees = 20.0;

/// [mm] points of a chart curve nearer than this are one point: far below what a knife follows.
inline constexpr double chart_merge = 1e-3;

/// [rad] outlines that turn by more than this at a point have a corner there (15 degrees).
inline constexpr double outline_corner = 0.2618;

/// [-] least height of a triangle by its longest edge: a flatter one is held this high, so that a
/// sliver stiffens its place a little and cannot spoil the solve.
inline constexpr double sliver_height = 1e-3;

/// [-] sine of 1 degree: bow and up nearer to parallel than that name no plane.
inline constexpr double least_bow_up_sine = 0.0175;

/// [-] rounding of short decimals that must not push a figure over a limit it stands on.
inline constexpr double decimal_rounding = 1e-9;

/// [mm] heights nearer than this are one level: far below what a ply can be laid to, far above
/// the rounding of a sum of thicknesses.
inline constexpr double level = 1e-6;

/// [mm] an open edge this near to one plane holding bow and up is a half hull's centreline
/// (DEFINITIONS.md, Edges).
inline constexpr double centreline = 1.0;

/// [mm] vertices of a mesh nearer than this to a line of the chart that it was made for lie on it:
/// the meshing merges points at chart_merge.
inline constexpr double on_chart_line = 5e-3;

/// [mm2] parts and gaps of a region smaller than this cannot be cut: rounding made them.
inline constexpr double least_island = 1.0;

/// [mm] points of an outline nearer than this to the line through the others are left out: a tenth
/// of what a cutter can follow, so that every file holds the very polygons of the plan.
inline constexpr double outline_thinning = 0.005;

/// [mm] outlines are this coarse where only room for text is looked for.
inline constexpr double label_room = 1.0;

/// [mm] how much of the hull beyond the footprint is meshed: section cards rest on sound surface.
inline constexpr double patch_margin = 50.0;

/// [mm] an edge of a mesh bulging more than this is meant so, however short: beyond rounding.
inline constexpr double mesh_bulge = 0.2;

/// [mm] gaps under a batten that disagree by more than this were not read off one hull.
inline constexpr double suspicious_figure = 3.0;

/// [mm] figures of a hull that contradict each other by more than this are refused: the templates
/// would be wrong by more than torn edges hide.
inline constexpr double contradicting_figure = 10.0;

/// [mm] two soundings of one place may differ by this: what a gauge reads twice.
inline constexpr double sounding_differs = 1.0;

/// [mm] soundings nearer to each other than this are one.
inline constexpr double sounding_repeated = 1.0;

/// [mm] soundings this near to the deepest one are of its floor: the least step of a depth gauge
/// and half of the next, so that a reading's last figure decides and no rounding.
inline constexpr double sounding_floor = 0.15;

/// [rad] arcs that turn less than this are drawn as their series: sin(a) / a is 1 - a^2 / 6 to the
/// last bit.
inline constexpr double straight_turn = 1e-4;

}  // namespace tearline::tolerance

#pragma once

/// Numeric tolerances of surface alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] a geodesic that meets a vertex passes it this fraction of the edge to the side.
inline constexpr double vertex_nudge = 1e-7;

/// [mm] a taut way's points nearer to each other are one point to rounding.
inline constexpr double taut_apart = 1e-9;

/// [rad] a taut way is not moved over a vertex for less than this turn: it would shorten it by
/// rounding alone, and back again.
inline constexpr double taut_turn = 1e-9;

/// [rad] half turns of an arc below this use the series of x / sin x, exact to 2e-12 there.
inline constexpr double series_angle = 0.1;

/// [-] cotangents of sliver corners are held to this size when a chart is made, so that one sliver
/// does not outweigh a thousand sound triangles.
inline constexpr double most_cotangent = 50.0;

/// [mm] a chart is at rest when no vertex moves farther in one step: it need only be
/// near-isometric.
inline constexpr double chart_rest = 0.05;

/// [-] cosine lost between the normals of an edge's two sides above which it is a crease: a quarter
/// of a degree. Elsewhere they are one normal to rounding.
inline constexpr double one_normal = 1e-5;

/// [-] of its energy: a chart is relaxed when a step lowers it by less; it need only tell pieces
/// and joints where to lie.
inline constexpr double relaxed = 1e-5;

/// [-] of the fall that the slope promises: a step that brings less is halved (Armijo's rule, with
/// the usual figure).
inline constexpr double falls_enough = 1e-4;

/// [-] of a whole step: one halved to less goes nowhere.
inline constexpr double shortest_step = 1e-6;

}  // namespace tearline::tolerance

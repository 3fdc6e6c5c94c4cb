#pragma once

/// Numeric tolerances of flattening alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] how far an edge may exceed the sum of the other two, by its own length: arcs of a sliver
/// across a crease can, a folded triangle does by more.
inline constexpr double triangle_excess = 1e-2;

/// [-] sum of the principal stretches under which a triangle has no direction of turning.
inline constexpr double no_stretch = 1e-12;

/// [-] area that the mean normal must still see, by the whole: below it there is no best plane.
inline constexpr double facing_share = 0.05;

/// [-] vertices from which the supernodal factor is faster than the column-by-column one.
inline constexpr int supernodal_from = 50000;

/// [-] residual of a Newton direction by its first one, in the Laplacian's norm.
inline constexpr double newton_solve = 0.05;

/// [-] the same where a flat shape follows a change of its lengths in one step.
inline constexpr double response_solve = 1e-3;

/// [-] conjugate gradient steps after which a Newton direction is taken as it is.
inline constexpr int most_conjugate_steps = 200;

/// [-] share of the foreseen gain that a step must bring (Armijo).
inline constexpr double armijo = 1e-4;

/// [-] rise of the energy that is rounding and no rise.
inline constexpr double energy_rounding = 1e-12;

/// [-] shortest part of a step that is tried.
inline constexpr double least_line_share = 1e-6;

/// [-] of the spread of the triangles round a vertex, added to hold the slope of a plane fitted
/// through them where they lie in line.
inline constexpr double plane_fit_hold = 1e-6;

/// [-] of a triangle's size: a place so far inside it lies in no other, not even with the slack that
/// others are given, unless they are a thousand times as large.
inline constexpr double well_inside_triangle = 1e-6;

/// [-] of a cell: a crossing of yarns is found when it moves by less.
inline constexpr double net_node = 1e-9;

/// [-] of a cell: a crossing that still moves to and fro by less is found well enough. Beyond the rim
/// the metric jumps where another stretch of the rim comes nearest, and there is nothing to meet.
inline constexpr double net_jump = 1e-2;

/// [-] sine of the angle between warp and weft under which the cloth is shut (3 degrees).
inline constexpr double net_shut = 0.05;

/// [-] steps after which a crossing is taken for none; near a shut cell it may take a dozen.
inline constexpr int most_net_steps = 25;

/// [-] of the step before: a step so much shorter tells how much shorter the next will be.
inline constexpr double steady_rate = 0.25;

/// [mm] flattening ends when no vertex has more than this to move: energy is a poor measure of an edge
/// (within 2e-5 of the least it can still be 0.15 mm off).
inline constexpr double flat_movement = 1e-3;

}  // namespace tearline::tolerance

#pragma once

/// Numeric tolerances of plies alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] how far the edges of a ply's mesh may leave its outline: a seventh of the 0.1 mm bar.
inline constexpr double outline_chord = 0.015;

/// [mm2] a part of a ply's mesh that hangs on it by no edge is a fold of its outline, and no cloth,
/// up to this.
inline constexpr double sliver_area = 1.0;

/// [mm] points of a rim nearer than this to one line may lie on either side of it: the rim is as
/// sure as that between the rays that found it.
inline constexpr double flat_ear = 0.05;

/// [-] sine by which two opposite angles must exceed a half turn for their edge to be flipped:
/// the diagonals of a square must not flip for ever.
inline constexpr double flip_gain = 1e-3;

/// [-] which side of a crease a corner belongs to is read this far from it towards its triangle.
inline constexpr double crease_side = 1e-3;

/// [mm] a hole in a net region is one where the marched distance passes the region's offset by more
/// than this: marching is as long as that, and a narrower hole could not be cut.
inline constexpr double hole_certain = 2.0;

/// [-] share of a ply that a strip trimmed over the middle of the damage may take.
inline constexpr double trimmed_share = 0.25;

/// [mm] `fill` counts as full when it is less than this short (job file contract).
inline constexpr double fill_short = 0.1;

/// [mm] a stack farther than this from the depth is warned of (DEFINITIONS.md, Edges).
inline constexpr double stack_off_depth = 0.5;

/// [mm] less floor than this under the dish is warned of: it flexes under the roller.
inline constexpr double least_floor = 1.0;

/// [mm] points of a net line are left out where the line stays this close without them.
inline constexpr double net_line_chord = 0.002;

/// [mm] a place this far inside the rim is asked whether it belongs to a region cut by the rim.
inline constexpr double rim_inset = 0.05;

/// [mm] diameter of the discs over which curvature is averaged, as strain.max is.
inline constexpr double curvature_disc = 10.0;

/// [-] least share of a radius that is left at depth: beyond the centre there is none.
inline constexpr double least_radius_share = 1e-3;

/// [1/mm] curvature below which a place is flat: a radius of a kilometre.
inline constexpr double flat_curvature = 1e-6;

/// [deg] creases that turn less than this are no tight place for cloth.
inline constexpr double slight_crease_degrees = 5.0;

/// [mm] a corner of an outline is one from this far away too: jogs where fronts cross are not.
inline constexpr double corner_arm = 0.5;

/// [mm] pieces of cloth narrower than this are slivers that nobody can lay.
inline constexpr double sliver = 25.0;

/// [mm] tails, necks and inlets of a ply narrower than this are no shape to cut.
inline constexpr double scissors = 10.0;

/// [mm2] nor is a tail or inlet smaller than this worth a cut: a rounded corner.
inline constexpr double least_tail = 25.0;

/// [mm] lines nearer than this to one another are one: places turned round a tube are as sure as
/// its chart, a hundredth.
inline constexpr double one_line = 0.02;

/// [mm] a crease is taken on so far beyond the hull's end where it runs out there: far above the
/// rounding of a region's edge, far below what is seen.
inline constexpr double crease_runs_on = 0.01;

}  // namespace tearline::tolerance

#pragma once

/// Numeric tolerances of ground alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] a straightedge's height over the surface is found this exactly: a thousandth of what a
/// gauge reads.
inline constexpr double straightedge_height = 1e-4;

/// [mm] ends of a straightedge that move less in a step stand where they stand.
inline constexpr double straightedge_settled = 0.01;

/// [mm] where the hull ends under a straightedge, its going on straight may stand so far over the
/// edge: less than a gauge reads.
inline constexpr double straightedge_beyond = 0.05;

/// [mm] a depth told by soundings alone is found this exactly: a hundredth of what a gauge reads.
inline constexpr double sounded_depth = 1e-3;

/// [mm] a dish is no deeper than this where the skin is not known: small hulls laid by hand are
/// thinner (common practice).
inline constexpr double thickest_skin = 25.0;

/// [-] cosine of the turn beyond which a surface is a wall that no straightedge lies on.
inline constexpr double straightedge_wall = 0.1;

/// [mm] the ground may stand so far over a straightedge before it is told that it cannot have lain
/// like that: what a smooth surface through soundings swings by between them.
inline constexpr double straightedge_rocks = 0.5;

/// [-] by how much of the ratio's own slope the ground may be steeper before it is shown.
inline constexpr double steeper_share = 0.1;

/// [mm] less than this is not ground off by hand.
inline constexpr double least_grind = 0.3;

/// [mm3] nor a spot that holds less than this: a square centimetre of the least depth.
inline constexpr double pinch_of_dust = 30.0;

/// [-] what holds a scan of a dish where its marks say, along motions that the skin leaves free.
inline constexpr double free_motion = 1e-3;

/// [mm] an edge of a region this near to the hull's end lies on it: what thinning and rounding
/// move.
inline constexpr double edge_on_end = 0.01;

/// [mm] a stretch of the hull's end narrower than this is no tongue that anybody laps over it.
inline constexpr double narrowest_lap = 25.0;

/// [rad] a chart that turns by less than this over a turn of a tube is only shifted: its arc is
/// straight to a millionth of its length.
inline constexpr double no_turn = 1e-6;

/// [-] beside weights of about 1: holds what hangs on nothing, and moves nothing that hangs on
/// something by more than rounding.
inline constexpr double held = 1e-9;

/// [-] cotangents by which turns round a tube are smoothed: never below, or turns would fall back,
/// and never above, where slivers would outweigh all else.
inline constexpr double least_weight = 0.01, most_weight = 100.0;

/// [mm2] twice the area of a triangle that has none: nothing is divided by less.
inline constexpr double least_twice_area = 1e-12;

}  // namespace tearline::tolerance

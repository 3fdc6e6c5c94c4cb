#pragma once

/// Numeric tolerances of dish alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [rad] directions of the damage outline that differ by more than this make a corner: a front
/// of rays needs more than one direction there.
inline constexpr double outline_kink = 0.02;

/// [mm] rays of a corner's two sides set out so far from it: far below what a front shows.
inline constexpr double beside_corner = 0.002;

/// [mm] over so short a part of the outline it does not bend (chords follow it to 0.01 mm), and its
/// chord in space may be a jump from one side of a curved crease to the other.
inline constexpr double no_bend = 0.1;

/// [mm] width given to a turn of one radian, as if seen from so far away.
inline constexpr double turn_arm = 100.0;

/// [mm] rays that set out nearer to each other than this are as one.
inline constexpr double closest_rays = 1e-3;

/// [mm] rays that set out as one and are farther apart than this have parted at a vertex.
inline constexpr double rays_parted = 0.1;

/// [mm] which triangle a direction leads into is looked up so far ahead.
inline constexpr double look_ahead = 1e-4;

/// [mm] a straight line meets the rim it starts on again no earlier than this.
inline constexpr double rim_restart = 1e-6;

/// [mm] gaps between strips of rays that are still read across: chords of a curved rim.
inline constexpr double between_strips = 0.2;

/// [mm] a way round a corner that is shorter by less than this is no shorter.
inline constexpr double shadow_gain = 1e-3;

/// [rad] a fan keeps so far off the rim on both sides, so that its rays set out on the patch.
inline constexpr double fan_rim = 1e-5;

/// [rad] fans of neighbouring vertices overlap by this, so that no gap stays between them.
inline constexpr double fan_overlap = 0.02;

/// [mm] and [-] a sounding is named when the others foretell it this much worse, and this many
/// times worse than they foretell most.
inline constexpr double sounding_outlier = 1.5;
inline constexpr double sounding_scatter = 4.0;

/// [mm] the surface through soundings may lie so far below one that it should not lie below:
/// rounding of the solve.
inline constexpr double plate_below = 1e-6;

/// [mm] level curves lie this near to their level's place.
inline constexpr double contour = 1e-3;

/// [mm] no point of a level curve is moved farther than this from the grid that found it.
inline constexpr double contour_reach = 5.0;

}  // namespace tearline::tolerance

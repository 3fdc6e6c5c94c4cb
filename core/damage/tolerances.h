#pragma once

/// Numeric tolerances of damage alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm2] a damage outline round less than this is a line there and back, or a slip of the pen.
inline constexpr double damage_least_area = 1.0;

/// [mm] how near the innermost point of an outline is to the true one; it only places a datum.
inline constexpr double innermost_point = 0.1;

/// [deg] up nearer than this to the normal's line is a bottom or a deck (DEFINITIONS.md, Flat
/// frame): the bow points to the top of the paper there.
inline constexpr double bottom_degrees = 30.0;

/// [mm] a point of the damage outline is at the foot of its normal to within this.
inline constexpr double outline_foot = 1e-5;

/// [mm] a straight way that is aimed at a point ends this near to it.
inline constexpr double straight_way_miss = 1e-4;

/// [mm] chords of the damage outline follow the curve to this.
inline constexpr double damage_chord = 0.01;

/// [mm] the longest chord of the damage outline, however straight it runs.
inline constexpr double damage_spacing = 5.0;

/// [mm] a curve passes over the hull's end at a place known this exactly.
inline constexpr double end_passed = 1e-4;

/// [mm] a point picked this near to the hull's end lies on it: picks lie on a CAD view's chords.
inline constexpr double picked_on_end = 3.0;

/// [-] and no farther from it than this share of the way that the outline's farthest point lies in:
/// a damage of a few mm keeps its shape.
inline constexpr double picked_on_end_share = 0.25;

/// [mm] a hull that ends for less than this under a way across it goes on: rounding of its rim.
inline constexpr double least_gap = 1e-6;

/// [deg] the hull's end turns at a corner by more than this; by less it is a smooth curve.
inline constexpr double end_corner_degrees = 20.0;

/// [mm] points of a smooth damage outline nearer than this to the one before crowd about a place
/// where its curve jumps (a disc's ways from the centre part at a vertex); no bend asks for them.
inline constexpr double damage_crowd = 0.1;

/// [mm] where a disc's ways from the centre cross behind a vertex its edge jumps back, by less than
/// this; a run of it between two places of the hull's end that is shorter is such a jump.
inline constexpr double jump = 1.0;

/// [-] cosine below which a direction does not tell two places apart (6 degrees).
inline constexpr double taped_side = 0.1;

/// [mm] three tapes that end farther apart than this were misread.
inline constexpr double tape_disagrees = 5.0;

/// [mm] tapes that are this much longer or shorter than the way between their marks end in the line
/// of the marks: half a millimetre beside it at most.
inline constexpr double tapes_just_meet = 1e-3;

/// [-] and below this they say nothing of how far beside them the point lies: 1 mm moves it 50 mm.
inline constexpr double tape_blind = 0.02;

/// [-] sine of the angle between two tapes below which they meet flat: 1 mm moves the point 6 mm.
inline constexpr double tape_flat = 0.17;

/// [-] of a side of the hull's end: two places on it nearer than this are one.
inline constexpr double same_part = 1e-9;

}  // namespace tearline::tolerance

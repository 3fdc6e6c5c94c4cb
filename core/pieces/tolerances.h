#pragma once

/// Numeric tolerances of pieces alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [deg] shear that another start or axis must save before the one asked for is left: less is lost
/// in how well cloth is pressed down by hand.
inline constexpr double shear_gain = 0.5;

/// [mm] edges whose chart places lie this near to a seam belong to it: the ridge of a trimmed
/// crease stands a little off the straight line.
inline constexpr double beside_seam = 0.05;

/// [-] help for a ply is tried though it is reckoned to leave so many times the limit: the
/// reckoning is that rough.
inline constexpr double help_hope = 1.6;

/// [-] a strip of cloth is laid to see whether it fits its roll though it is so many times too wide
/// in the chart: charts of hulls are true to a few in a hundred.
inline constexpr double chart_width = 1.15;

/// [-] the same where the whole shape was laid flat and told how wide it is, besides its strain.
inline constexpr double chart_width_known = 1.03;

/// [-] a closer search for the start is tried though the best of the wide one leaves so many times
/// the limit: it takes off a tenth or so.
inline constexpr double laying_hope = 1.3;

/// [-] of the limit: what each cut is hoped to take off.
inline constexpr double cut_hope = 0.5;

/// [-] a way is meshed though its trial leaves so many times the limit: rough edges and large
/// triangles move a strain by less.
inline constexpr double trial_hope = 1.3;

/// [mm] rest of a flattening that is only compared with others: a fiftieth of the 10 mm discs that
/// its strain is averaged over moves that by far less than the limits are known.
inline constexpr double trial_movement = 0.2;

/// [-] cells from the middle of a large piece to its end: twice as wide as usual at 3 m.
inline constexpr double net_cells = 150.0;

/// [-] change of the metric within a cell up to which it may be that wide: half way out on a sphere
/// that is a cell of 1/170 of its radius, which is 1e-4 degrees off (SOURCES.md, woven net: it goes
/// with the square of the cell).
inline constexpr double even_metric = 2e-3;
/// [1/mm] a chart whose metric changes by less over its length is even: nothing is divided by none.
inline constexpr double least_slope = 1e-12;

/// [-], [deg] strain and shear under which a piece has none worth a place: the bars of developables
/// (DEFINITIONS.md, Bars).
inline constexpr double no_strain = 1e-4, no_shear = 0.05;

/// [-] a direction in space runs along a surface where so much of it is tangential; 6 degrees off
/// the normal.
inline constexpr double along_surface = 0.1;

/// [mm] diameter of the discs that strain and shear are averaged over (DEFINITIONS.md, Mat).
inline constexpr double strain_disc = 10.0;

/// [-], [deg] no disc is looked for whose mean would be larger by less: far below any figure shown.
inline constexpr double same_mean = 1e-9;

/// [-] a side both of whose ends lie within so much of the disc's radius, squared, crosses its edge
/// nowhere, whatever rounding does.
inline constexpr double well_inside_disc = 1.0 - 1e-6;

}  // namespace tearline::tolerance

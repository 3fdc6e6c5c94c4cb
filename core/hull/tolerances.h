#pragma once

/// Numeric tolerances of hull alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] 4 float ulp relative to the model's extent: STL stores 24-bit coordinates.
inline constexpr double weld_relative = 4.0 / (1 << 23);

/// [mm] edges of CAD faces nearer than this are sewn: what exporters leave between good faces.
inline constexpr double sewing = 0.1;

/// [-] deflection of the coarse mesh of a CAD hull over its diagonal: 7 mm on a 7 m hull, fine
/// enough to find faces and topology; the neighbourhood of a repair is meshed anew.
inline constexpr double mesh_deflection_relative = 1e-3;

/// [rad] most that the normal turns over one triangle of that coarse mesh.
inline constexpr double mesh_turn = 0.35;

/// [-] a hull whose volume is below this times area^1.5 does not say which way is out
/// (DEFINITIONS.md, Outward).
inline constexpr double outside_volume = 0.005;

/// [mm] open edges of a mesh nearer than this are joined: what mesh exporters leave between faces.
inline constexpr double stitch = 0.1;

/// [mm] a model that reaches farther than this was given the wrong unit: 1 km.
inline constexpr double largest_model = 1e6;

/// [mm] a model larger or smaller than this is seldom a hull: its unit is asked about.
inline constexpr double longest_hull = 60'000.0;
inline constexpr double shortest_hull = 5.0;

/// [-] sine of 10 degrees: a hull that meets a plane at less lies along it and is no half of a hull
/// cut there; facets of 1 mm deflection turn by less on any radius above 70 mm.
inline constexpr double centreline_sine = 0.17;

/// [-] two straight edges whose lengths are alike to this share are a keel and a sheer.
inline constexpr double centreline_alike = 0.75;

/// [-] of all open edges of a hull, how much must lie in one plane to be a centreline; less is the
/// sheer passing its widest place.
inline constexpr double centreline_share = 0.1;

/// [-] skins nearer than this times the hull's diagonal are two faces of one laminate: 120 mm on a
/// 6 m boat, more than any single-skin or cored laminate of hand lay-up.
inline constexpr double skin_share = 0.02;

/// [-] least ratio of the areas of the two faces of one skin.
inline constexpr double skin_likeness = 0.5;

/// [-] mean cosine to the way out of the boat above which a region belongs to a skin and not to
/// the rim between two.
inline constexpr double skin_facing = 0.1;

/// [-] |du x dv|^2 below this times |du|^2 |dv|^2 is a pole of the face, where no curvature is
/// read.
inline constexpr double degenerate_parameters = 1e-8;

/// [mm] radii above this are told as flat: 1 km.
inline constexpr double largest_radius = 1e6;

/// [mm] no reading with tape, batten or gauge is finer than this: a surface that passes nearer to
/// every figure is not fairer for it.
inline constexpr double reading_floor = 0.05;

/// [-] share of a table's figures that must be left over before their scatter can be told.
inline constexpr double least_freedom = 0.02;

/// [-] a figure was mistyped or misread when chance would put it so far off, by what the others
/// scatter, no oftener than it puts a normal variate this many deviations off: once in some
/// thousand tables.
inline constexpr double slip_deviates = 5.0;

/// [mm] and when it is off by more than this: readings are good to half a millimetre.
inline constexpr double slip_least = 0.75;

/// [rad] no patch measured by hand is drawn farther round than this to each side: beyond 70 degrees
/// its own plan folds.
inline constexpr double measured_turn = 1.2;

/// [mm] steps by which a measured surface is varied to see what its gaps do.
inline constexpr double measured_step = 1e-3;

/// [mm] gaps of a measured surface are met when no step moves it farther than this.
inline constexpr double measured_rest = 1e-7;

/// [-] two places of a vertex in the parameters of a face are one when they are no farther apart,
/// by their size: its seam lies a whole turn from itself.
inline constexpr double same_parameters = 1e-6;

/// [-] flats of a corner that turn towards each other by less, about 3 degrees, tell nothing of how
/// its line bends sideways.
inline constexpr double least_corner_turn = 0.05;

/// [-] no part of a corner whose line bends is drawn on less than this of the line's own radius: a
/// rib between figures, not a flat.
inline constexpr double least_corner_share = 0.2;

/// [mm2] a face's area is taken for no less where its centroid is told: one of none has no middle.
inline constexpr double least_face_area = 1e-12;

}  // namespace tearline::tolerance

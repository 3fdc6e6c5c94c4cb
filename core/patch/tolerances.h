#pragma once

/// Numeric tolerances of patch alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] a point carried to the exact surface is at the foot of its normal to within this.
inline constexpr double foot = 1e-6;

/// [-] parameter directions with a smaller sine between them, or shorter than this against each
/// other, mark a pole of a CAD face, where they give no normal.
inline constexpr double pole_sine = 1e-7;

/// [mm] how far from a pole the surface is looked at to learn its normal there.
inline constexpr double pole_nudge = 1e-3;

/// [-] parameters of a CAD face closer than this (of their size) are the same.
inline constexpr double same_place_on_face = 1e-9;

/// [-] cosine lost between two normals of a mesh vertex that still count as one.
inline constexpr double same_normal = 1e-6;

/// [deg] faces of a CAD model that meet at less than this are one smooth surface: exchange files
/// carry tangent joints to some tenths of a degree.
inline constexpr double cad_crease_degrees = 1.0;

/// [-] share of a corner's normals in a direction below which it has no say where the skin moves
/// it.
inline constexpr double flat_corner = 1e-4;

/// [-] a chart that stretches lengths beyond these bounds is no plan of a panel but of a tube.
inline constexpr double least_chart_stretch = 0.2;
inline constexpr double most_chart_stretch = 5.0;

/// [mm] facets of a mesh less high than this and so many times as long are needles, whose corners
/// say nothing of the direction of the surface between them: meshes are made to about a millimetre.
inline constexpr double needle_height = 1.0;
inline constexpr double needle_shape = 50.0;

/// [deg] the hull's end has a corner where it turns by more than this from one rim edge to the
/// next: one end stops there and another begins, and cloth cannot be rolled over it.
inline constexpr double rim_corner_degrees = 30.0;

/// [deg] and a crease that runs out over it where its two sides' normals differ by more than this.
inline constexpr double end_crease_degrees = 3.0;

/// [-] what lies over the hull's end may be so much shorter than the end itself before it is no
/// strip to lay cloth on: a flap about a hole as small as that gathers in folds.
inline constexpr double least_end_stretch = 0.25;

/// [mm] how far beside a place on a strip its neighbours lie that tell how its normal turns:
/// normals are exact, and their rounding is 1e-10 of that.
inline constexpr double strip_aside = 1e-2;

/// [-] a vertex of a mesh nearer to a line that cuts it than this part of its shortest edge is
/// moved on to the line: no slivers.
inline constexpr double vertex_on_cut = 0.2;

/// [-] places along a run of the hull's end, counted in its segments, that are the same.
inline constexpr double same_on_run = 1e-6;

}  // namespace tearline::tolerance

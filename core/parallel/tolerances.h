#pragma once

/// Numeric tolerances of parallel alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] girth lost at a crease below which its sheets are not trimmed but mitred.
inline constexpr double least_trim = 0.02;

/// [mm] girth by which a mitre may exceed the arc that an opened crease should have.
inline constexpr double mitre_error = 0.005;

/// [mm] a ridge point has settled when its feet move less than this.
inline constexpr double ridge_step = 1e-7;

/// [-] steps after which a ridge point is given up; each is depth x curvature times the one before,
/// 0.9 times beside the facets of a coarse mesh.
inline constexpr int most_ridge_steps = 400;

/// [-] sine of the turn at a crease under which its sheets have no ridge to speak of.
inline constexpr double flat_crease = 1e-4;

/// [mm] between the nodes of a trimmed strip: its edges bend by less than 0.01 mm in that.
inline constexpr double strip_spacing = 5.0;

/// [-] nodes that a strip may go on beyond the mesh, for an outline nearly along the crease.
inline constexpr int most_strip_steps_beyond = 80;

/// [-] a vertex nearer to a cut than this share of its edge is moved onto it: no slivers.
inline constexpr double snap_share = 0.3;

/// [mm] two ends of a cut on an outline nearer than this are one.
inline constexpr double jog = 0.02;

/// [rad] most turn of one segment of an opened crease's arc.
inline constexpr double arc_segment = 0.53;

/// [-] least cosine between a triangle at depth and its normals, as a share of what it was on the
/// base surface: beyond it the sheet has folded.
inline constexpr double fold_cosine = 0.2;

}  // namespace tearline::tolerance

#pragma once

/// Numeric tolerances of templates alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] a lap is joined to its piece over so much of it: edges that only meet leave hairline slits,
/// and no cloth is cut so true that it shows.
inline constexpr double seam_overlap = 0.05;

/// [mm] points of a net line nearer than this to the hull's end lie on it: more than the chords of
/// the rim miss of it, less than the steps of the net line.
inline constexpr double on_hull_end = 0.2;

/// [mm] arrows of a template whose tips lie nearer than this are one arrow to the eye.
inline constexpr double same_arrow = 1.0;

/// [mm] cloth between a slit and another hole narrower than this parts when it is cut or wetted:
/// common practice (no source), some two bundles of a roving on each side.
inline constexpr double sound_strip = 25.0;

}  // namespace tearline::tolerance

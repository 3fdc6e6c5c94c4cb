#pragma once

/// Numeric tolerances of scan alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] scans may lie far from their origin, in a survey's coordinates; no farther than the Earth
/// is large.
inline constexpr double largest_scanned = 1e11;

/// [mm] what is not believed reaches this far past the outline, or two spacings.
inline constexpr double scan_guard = 10.0;

/// [mm] sound skin that the base is fitted to, past the guard; or this share of the half width.
inline constexpr double scan_band = 100.0;
inline constexpr double scan_band_share = 0.7;

/// [mm] a spread of residuals is never taken for less: what exact input scatters.
inline constexpr double least_spread = 0.02;

/// [-] a place lies to one side of a surface when the way to it leans less than 78 degrees from
/// the normal.
inline constexpr double to_one_side = 0.2;

/// [-] of facets near the damage that must face one way for the scan to have a modelled side.
inline constexpr double facets_agree = 0.9;

/// [-] a step of the base's fit that gains no more than this of the loss is the last: what is left
/// the field of heights takes.
inline constexpr double settled_loss = 1e-6;

/// [-] and one that moves it by less than this of its reach.
inline constexpr double settled_step = 1e-9;

/// [-] a spread that changes by less than this share from round to round is settled.
inline constexpr double settled_spread = 1e-3;

/// [-] damping of the fit's first step, by the largest of its normal matrix, and the least of any.
inline constexpr double first_damping = 1e-4;
inline constexpr double least_damping = 1e-12;

/// [-] under the root of an arc's distance: past the centre of curvature there is none.
inline constexpr double least_root = 1e-12;

/// [-] spread of a quadric over its reach that exact points are taken to have.
inline constexpr double least_wide = 1e-9;

/// [-] of the largest own value of parabolas over points: by less they do not tell one, as a strip
/// of a thousandth of its length.
inline constexpr double pinned = 1e-12;

/// [mm] a place was picked on a scan when a point of it lies so near, or as near as its neighbours.
inline constexpr double picked_off = 20.0;

/// [-] a way that shortens by less than this share is tight.
inline constexpr double settled_girth = 1e-9;

/// [-] residuals of a field whose spread changes by less than this share from round to round are
/// settled.
inline constexpr double settled_residuals = 2e-3;

/// [mm] a place of a chine is found when no step moves it farther than this, and heights are
/// compared over this.
inline constexpr double crease_rest = 1e-8;
inline constexpr double crease_step = 1e-3;

/// [mm] half of the points of a place lie no farther off a surface that is said to follow them: a
/// surface is to be within 1 mm, and inside a place it is worse than at its middle value.
inline constexpr double followed = 0.5;

/// [mm] past this noise the base and a parabola alone are believed (DEFINITIONS.md, Scans).
inline constexpr double stiff_noise = 1.5;

/// [mm] a rolled bend is differentiated over this.
inline constexpr double bend_step = 0.05;

/// [mm] a bend whose own points lie farther off its middle, half of them, has another radius.
inline constexpr double bend_off = 0.5;

/// [deg] sides that turn less than this make no chine.
inline constexpr double least_chine = 15.0;

/// [-] of a step: the end of a spline belongs to its last step by this.
inline constexpr double last_step = 1e-9;

/// [-] poles from which a field is factored in dense blocks: below, loading the library takes as
/// long.
inline constexpr int blocks_from = 1500;

}  // namespace tearline::tolerance

#pragma once
#include <optional>

#include "core/job/through.h"

namespace tearline::closing {

/// A face of a plug, flat.
struct PlugFace {
    double area_mm2 = 0.0, perimeter_mm = 0.0;
};

/// How thick the plug is: the core less its bed, less what the new far skin is thicker than the old
/// [mm].
[[nodiscard]] double plug_thickness(const job::Core& core, double new_far, double old_far);

/// How far a flat piece stands off a surface of two radii, at its middle [mm].
///
/// @param piece   [mm] across: the pitch of kerfs, or the plug itself where it has none
/// @param k1, k2  [1/mm] curvatures
/// @source  derived: p^2 / 8 (1/R1 + 1/R2), sizes of the curvatures (SOURCES.md section 12)
[[nodiscard]] double stand_off(double piece, double k1, double k2);

/// Kerfs in one direction of a plug that is bent.
struct KerfMove {
    double moves = 0.0;      ///< [mm] that each closes by in a hollow; negative: it opens
    bool closes_up = false;  ///< it would have to close by more than it is wide
    double share = 0.0;      ///< [-] of the plug's volume that is kerf when it lies
};

/// @param pitch, width, depth  [mm] of the kerfs, cut from the face towards you
/// @param curvature            [1/mm] along the direction square to them; positive where the hull
/// bulges towards you, which opens them
/// @source  derived: p d / R; w/p +- d / (2 R) of the volume (SOURCES.md section 12)
[[nodiscard]] KerfMove kerf_move(double pitch, double width, double depth, double curvature);

/// Both directions together, each place counted once: a + b - a b.
[[nodiscard]] double kerf_share(double along, double across);

/// A core plug: square where both faces are the same.
struct Plug {
    PlugFace bed, top;
    double thickness = 0.0;  ///< [mm]
    double chamfer = 0.0;    ///< [mm] how far the top reaches beyond the bed
};

/// What a plug holds [mm3], and its faces with its edge [mm2], by a frustum.
[[nodiscard]] double plug_volume(const Plug& plug);
[[nodiscard]] double plug_surface(const Plug& plug);

/// Paste of a plug [mL]: bed under it, gap round it, every kerf.
///
/// @param kerf_share  [-] of its volume
[[nodiscard]] double paste_mL(const job::Core& core, const Plug& plug, double kerf_share);

}  // namespace tearline::closing

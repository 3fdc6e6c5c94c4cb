#pragma once
#include "core/base/result.h"
#include "core/damage/flat_frame.h"
#include "core/templates/laid_ply.h"
#include "core/templates/template.h"

namespace tearline::plan {

/// Makes a core plug smaller all round: by its gap, where its outline is the hole itself.
///
/// @param gap  [mm]
/// @error no_safe_answer  no plug of one piece is left
[[nodiscard]] Result<void> shrink_plug(double gap, templates::Template& outline);

/// Cuts a core plug's template back beside the hull's end and openings, which are filled solid, so
/// that it is cut as it is drawn; marks that lay on what is gone go with it.
///
/// @param width  [mm] from there
/// @return       how much of its bed is filled instead [mm2]
/// @error no_safe_answer  no plug of one piece is left
[[nodiscard]] Result<double> cut_back_plug(double width, templates::Template& outline);

/// The direction on the table in which a laid ply bends most, from +x [rad]; 0 where it bends
/// every way alike: kerfs along and across it let the plug lie down without a twist.
[[nodiscard]] double direction_of_most_bend(const templates::LaidPly& ply,
                                            const damage::FlatFrame& frame);

}  // namespace tearline::plan

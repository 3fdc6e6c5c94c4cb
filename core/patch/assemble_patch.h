#pragma once
#include "core/base/result.h"
#include "core/patch/crop_hull.h"
#include "core/patch/not_flat_words.h"
#include "core/patch/repair_region.h"
#include "core/surface/carried_surface.h"
#include "core/surface/patch.h"

namespace tearline::patch {

/// Makes a patch from a finished mesh on the base surface: turned to the laying side, with normals,
/// arcs, creases, chart and search structures.
///
/// @param sign   +1 laid from outside, -1 from inside
/// @param round  a damage about which a tube is rolled out; null: none is
/// @error no_safe_answer  neither a disc with openings nor a tube to be rolled out, or curved too
///                        much for a chart
[[nodiscard]] Result<surface::Patch> assemble_patch(const CroppedHull& cropped, double sign,
                                                    const NotFlatWords& not_flat = {},
                                                    const RepairRegion* round = nullptr);

}  // namespace tearline::patch

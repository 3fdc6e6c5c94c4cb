#pragma once
#include <vector>

#include "core/damage/flat_frame.h"
#include "core/job/job.h"
#include "core/pieces/piece.h"
#include "core/templates/directions.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// What a template is drawn from.
struct TemplateRequest {
    const pieces::Piece& piece;
    const job::Fabric& fabric;
    double axis_degrees = 0.0;  ///< fibre axis asked for, from the bow direction
    const damage::FlatFrame& frame;
    const Directions& directions;
    std::vector<Loop2> next_edge;  ///< [mm] in the chart: edges of the next smaller ply
    bool round_fittings = false;   ///< its holes are cut: nothing of the cloth reaches into them
};

/// Net line and tear or cut line of a piece with its datum, arrows, match ticks and relief cuts.
/// Cloth laps its seams by half of the fabric's lap to either side of them.
///
/// Match ticks stand where the planes through the middle of the damage, square to the hull and
/// along the flat frame's axes, cut the net line: the same lines on the hull for every ply. The
/// words are added by label_template().
[[nodiscard]] Template make_template(const TemplateRequest& request);

/// The datum cross, bow and up arrows and match ticks of a flat piece.
///
/// @param reach  [mm] how far a tick may stand out over the net line
[[nodiscard]] std::vector<Mark> datum_marks(const pieces::Piece& piece,
                                            const damage::FlatFrame& frame,
                                            const Directions& directions, double reach);

}  // namespace tearline::templates

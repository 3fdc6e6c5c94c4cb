#pragma once
#include "core/plan/plan.h"

namespace tearline::plan {

/// Writes on every template what a person at the table must know: ply and piece, fabric, job, which
/// face looks at them, area, glass and resin, and the warnings that concern the piece.
///
/// Needs the quantities of each piece and all warnings; call it once, last.
void label_plan(Plan& plan);

}  // namespace tearline::plan

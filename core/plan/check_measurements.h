#pragma once
#include "core/plan/plan.h"
#include "core/rates/edge_rates.h"

namespace tearline::plan {

/// How well a hull measured by hand meets its figures, and how far a template edge moves for each
/// millimetre that a figure is wrong: each gap of a batten is changed by 1 mm and the widest ply
/// laid flat again; figures of a table, of which there are many, are followed to first order.
///
/// @param plan  planned; gains `measured` and a warning that says it
void check_measurements(const rates::PlannedGround& on, Plan& plan);

}  // namespace tearline::plan

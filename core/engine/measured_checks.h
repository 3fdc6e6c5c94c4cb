#pragma once
#include "core/hull/hull.h"
#include "core/plan.h"

namespace tearline::engine {

/// How well a hull measured by hand meets its figures, and how far a template edge moves for each
/// millimetre that a figure is wrong: every gap of a batten, or the figure of a table nearest the
/// damage, is changed by 1 mm and the widest ply laid flat again.
///
/// @param asked  the job as read, its points not placed yet
/// @param plan   planned; gains `measured` and a warning that says it
void check_measurements(const job::Job& asked, const hull::Hull& hull, Plan& plan);

}  // namespace tearline::engine

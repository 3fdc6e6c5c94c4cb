#pragma once
#include "core/page/data_writer.h"
#include "core/plan/plan.h"

namespace tearline::page {

/// Plies with their strain, dish, lines, scale and warnings of a plan.
void write_plan_data(DataWriter& data, const Plan& plan);

}  // namespace tearline::page

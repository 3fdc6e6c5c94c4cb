#pragma once
#include "core/formats/json_writer.h"
#include "core/plan/plan.h"

namespace tearline::batch {

/// Adds "what_if": what variants of a job are compared by beside its totals, and a small picture of
/// its rings.
void write_what_if(formats::JsonWriter& json, const Plan& plan);

}  // namespace tearline::batch

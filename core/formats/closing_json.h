#pragma once
#include "core/formats/json_writer.h"
#include "core/plan/plan.h"

namespace tearline::formats {

/// Addition to the schema: what closes the hole from behind.
void write_backing(JsonWriter& json, const Plan& plan);

/// Addition to the schema: the new core, and the sandwich as it was and will be.
void write_core(JsonWriter& json, const Plan& plan);

/// Addition to the schema: what the hole costs from one side, the other, both.
void write_ways(JsonWriter& json, const Plan& plan);

}  // namespace tearline::formats

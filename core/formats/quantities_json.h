#pragma once
#include "core/formats/json_writer.h"
#include "core/plan/plan.h"

namespace tearline::formats {

/// The totals of one copy, under "totals".
void write_totals(JsonWriter& json, const quantities::Quantities& quantities);

/// A cup: what the job needs of it, and what is really mixed.
void write_cup(JsonWriter& json, const quantities::Cup& cup);

/// Additions to the schema: old laminate against new, and the scarf check.
void write_laminate(JsonWriter& json, const Plan& plan);

/// An addition to the schema: what to buy for all copies.
void write_shopping(JsonWriter& json, const quantities::Shopping& shopping);

/// Cups under a key.
void write_cups(JsonWriter& json, const char* key, const std::vector<quantities::Cup>& cups);

/// What lies where on the rolls.
void write_rolls(JsonWriter& json, const Plan& plan);

/// The stages of laminating, the cups of the topcoat, and the test cup.
void write_stages(JsonWriter& json, const Plan& plan);

}  // namespace tearline::formats

#pragma once
#include "core/formats/json_writer.h"
#include "core/plan/plan.h"

namespace tearline::formats {

/// Damage, ground edge and footprint: outlines and areas.
void write_areas(JsonWriter& json, const Plan& plan);

/// An addition to the schema: what the cloth goes round.
void write_openings(JsonWriter& json, const Plan& plan);

/// An addition to the schema: how the cloth goes over the hull's end.
void write_lap(JsonWriter& json, const Plan& plan);

/// An addition to the schema: the directions that every template shares.
void write_frame(JsonWriter& json, const Plan& plan);

/// An addition to the schema: the flattened footprint and its rings, in the flat frame.
void write_grind_guide(JsonWriter& json, const templates::GrindGuide& guide);

/// An addition to the schema: the base surface along and across through the middle.
void write_sections(JsonWriter& json, const std::vector<templates::Section>& sections);

}  // namespace tearline::formats

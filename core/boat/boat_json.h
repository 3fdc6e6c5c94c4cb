#pragma once
#include <string>

#include "core/boat/boat.h"

namespace tearline::boat {

/// plan.json of a boat, schema "tearline-boat/1" (boat.schema.json).
[[nodiscard]] std::string boat_json(const Boat& boat);

/// The same with every plan in it, under "plans", for the program that prints.
[[nodiscard]] std::string boat_json_with_plans(const Boat& boat);

}  // namespace tearline::boat

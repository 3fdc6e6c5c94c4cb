#pragma once
#include <string>

#include "core/boat/boat.h"
#include "core/plane/box.h"

namespace tearline::boat {

/// The whole hull from every side that a place is on, its places drawn and named.
///
/// @param window  [mm] of the picture that the views fill
[[nodiscard]] std::string views_of_boat(const Boat& boat, const plane::Box& window);

/// overview.svg of a boat: the views, and every place with its plies and amounts.
[[nodiscard]] std::string boat_overview(const Boat& boat);

/// The pieces on a remnant, small.
[[nodiscard]] std::string remnant_picture(const Boat& boat, const layout::CutRemnant& remnant);

}  // namespace tearline::boat
